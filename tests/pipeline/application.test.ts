import { describe, expect, it } from 'vitest';
import { answersCsv } from '../../src/export/answers-csv.ts';
import { handoutPage } from '../../src/export/handout-page.ts';
import { plainText } from '../../src/export/plain-text.ts';
import { type LocalFrame, localProjection } from '../../src/geometry/local-projection.ts';
import { stripGrounds } from '../../src/harvest/strip-ground.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { takeFiles } from '../../src/pipeline/trial-from-files.ts';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import { frameOfStrips } from '../../src/trial/frame-of-strips.ts';
import { stampedApplication } from '../../src/trial/stamped-application.ts';
import type { ApplicationFile, TrialDocument } from '../../src/trial/trial-document.ts';
import { demoFile, demoTrial, textFile } from './demo-input.ts';

const HARVEST = demoFile('harvest.csv');
const SKIPPED = 'S01';

/** Up every strip with something planned, a point every 3 m; strip S01 without its stretch from 120 to 160 m. */
function logText(trial: TrialDocument): string {
  const frame = frameOfStrips(trial.strips) as LocalFrame;
  const projection = localProjection(frame);
  const rows = stripGrounds(trial.strips, frame).flatMap(({ id, index, oriented }) => {
    const { treatment } = trial.strips[index]!;
    if (treatment === 'Untreated') return [];
    const steps = Array.from({ length: Math.ceil(oriented.lengthM / 3) + 1 }, (_, t) => 3 * t);
    return steps.map((from) => {
      const along = from - oriented.lengthM / 2;
      const [longitude, latitude] = projection.toGeographic(
        oriented.centreEastM + along * oriented.alongEast,
        oriented.centreNorthM + along * oriented.alongNorth,
      );
      const isOff = id === SKIPPED && from >= 120 && from < 160;
      return [
        index * 1000 + from,
        longitude.toFixed(8),
        latitude.toFixed(8),
        40,
        isOff ? 0 : 16,
        treatment,
      ].join();
    });
  });
  return ['Time (s),Lon,Lat,Swath (ft),Rate (gal/ac),Product', ...rows, ''].join('\n');
}

const ASKED: ApplicationFile = { path: 'sprayed.csv', columns: {}, swathM: null, products: [] };

function withLog(): { trial: TrialDocument; log: ReturnType<typeof textFile> } {
  const taken = applyCommand(demoTrial(), { name: 'takeApplicationFile', file: ASKED });
  if (!taken.ok) throw new Error(JSON.stringify(taken.problems));
  return { trial: taken.value, log: textFile('sprayed.csv', logText(demoTrial())) };
}

describe('an application log beside a harvest', () => {
  it('is told from other files by its rate, and taken', async () => {
    const { commands } = await takeFiles([withLog().log]);
    expect(commands).toEqual([{ name: 'takeApplicationFile', file: ASKED }]);
  });

  it('sets aside the points of a stretch that was skipped, and leaves all other strips as they were', async () => {
    const { trial, log } = withLog();
    const [before, after] = [
      await analyseTrial(demoTrial(), [HARVEST]),
      await analyseTrial(trial, [HARVEST, log]),
    ];
    expect(before.applied).toBeNull();
    expect(after.applied?.strips).toHaveLength(30);
    for (const strip of after.report.strips) {
      const was = before.report.strips.find((own) => own.strip === strip.strip);
      if (strip.strip === SKIPPED) expect(strip.pointsSetAside.appliedOtherwise).toBeGreaterThan(10);
      else expect(strip).toEqual(was);
    }
    const weakens = after.report.responses[0]?.answers[0]?.weakens.join('\n');
    expect(weakens).toMatch(/did not get what was planned and are left out \(4\d m in all; of strips S01\)/);
    expect(plainText(after.report)).toContain('Stretches did not get what was planned and are left out');
    expect(answersCsv(after.report)).toContain('Stretches did not get what was planned and are left out');
    expect(handoutPage(after.report, { season: null })).toContain(
      'Stretches did not get what was planned and are left out',
    );
    const said = after.report.problems.filter(({ code }) => code === 'stretchesSkipped');
    expect(said.map(({ message }) => message).join()).toMatch(/S01; 4\d\S* m in all/);
    expect(after.report.trial.files).toContainEqual(
      expect.objectContaining({ name: 'sprayed.csv', role: 'application' }),
    );
    // 16 gal/ac are 149.66 L/ha.
    const row = after.applied?.strips.find(({ id }) => id === 'S02');
    expect(row?.rate?.mean).toBeCloseTo((16 * 3.785411784) / 0.40468564224, 6);
    expect(row?.coveredShare).toBeGreaterThan(0.99);
  });

  it('says that a log which the trial names is not there', async () => {
    const { report } = await analyseTrial(withLog().trial, [HARVEST]);
    expect(report.problems).toContainEqual(
      expect.objectContaining({ code: 'fileMissing', file: 'sprayed.csv', severity: 'error' }),
    );
    expect(report.responses[0]?.answers[0]?.weakens.join('\n')).toContain('was not read (sprayed.csv)');
  });

  it('taken, or told what it means, after the harvest was seen is a late change', () => {
    const { inference, harvest } = demoTrial();
    const stamp = {
      at: '2026-09-01T10:00:00.000Z',
      inference,
      harvest,
      application: stampedApplication(demoTrial()),
    };
    expect(changedAfterSeeing({ ...demoTrial(), stamp })).toEqual([]);
    const { trial } = withLog();
    expect(changedAfterSeeing({ ...trial, stamp })).toEqual([
      { path: 'layout.application', before: '[]', now: '["sprayed.csv"]' },
    ]);
  });
});
