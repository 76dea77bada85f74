import { describe, expect, it } from 'vitest';
import { answerFiles } from '../../src/export/answer-files.ts';
import { howItWasDone } from '../../src/export/how-it-was-done.ts';
import { stripsGeojson } from '../../src/export/strips-geojson.ts';
import { inverseMove } from '../../src/geometry/plane-move.ts';
import { type AnalysisRun, analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { cleaningsOfTrial } from '../../src/pipeline/cleanings-of-trial.ts';
import { lagOfTrial } from '../../src/pipeline/lag-of-trial.ts';
import { pinOf, trialAsItLies } from '../../src/trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../src/trial/layout-move-schema.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { demoFile, demoTrial } from './demo-input.ts';

const FILES = [demoFile('layout.geojson'), demoFile('harvest.csv')];
const AWAY: LayoutMove = {
  eastM: 25,
  northM: -40,
  turnDegrees: 6,
  mirrored: false,
  renumbered: false,
  how: 'byHand',
};

/** The demo, planned somewhere else and moved to where it lies. */
function plannedElsewhere(): TrialDocument {
  const trial = demoTrial();
  const pinned = pinOf(trial.strips)!;
  const away = trialAsItLies({ ...trial, layoutMove: AWAY });
  const back = inverseMove({ ...AWAY, axisDegrees: pinned.axisDegrees });
  const { eastM, northM, turnDegrees } = back;
  return { ...away, layoutMove: { ...AWAY, eastM, northM, turnDegrees, pinned } };
}

describe('a layout that was moved, from files to the report', () => {
  const lying = analyseTrial(demoTrial(), FILES);
  const moved = analyseTrial(plannedElsewhere(), FILES);

  it('gives what the same strips give that were planned there', async () => {
    const values = ({ report }: AnalysisRun) =>
      report.strips.flatMap((strip) => strip.values.map(({ value }) => value ?? Number.NaN));
    const [expected, got] = [values(await lying), values(await moved)];
    expect(got.length).toBe(expected.length);
    got.forEach((value, i) => {
      // The projection keeps 0.1 micrometre there and back.
      expect(Math.abs(value / expected[i]! - 1)).toBeLessThan(1e-7);
    });
  });

  it('says so in the report and lists it as changed after the harvest was seen', async () => {
    const { report } = await moved;
    const said = report.problems.find(({ code }) => code === 'layoutMoved');
    expect(said?.severity).toBe('note');
    expect(said?.message).toMatch(/^The strips were not taken as planned: .* m .*, by hand\.$/);
    expect(howItWasDone(report, report.responses[0]!)).toContain(said?.message);
    expect(report.trial.settings.layoutMove).toContain('"turnDegrees":-6');
    expect((await lying).report.problems.map(({ code }) => code)).not.toContain('layoutMoved');
  });

  it('draws and exports the strips where they lie, and the plan beside them', async () => {
    const [there, run] = [await lying, await moved];
    const corner = ({ field }: AnalysisRun) => field!.strips[0]!.rings[0]![0]!;
    expect(Math.hypot(corner(run)[0] - corner(there)[0], corner(run)[1] - corner(there)[1])).toBeLessThan(
      1e-3,
    );
    expect(run.field!.planned.length).toBe(there.field!.strips.length);
    expect(there.field!.planned).toEqual([]);
    const longitudes = ({ report, trial }: AnalysisRun): number[] =>
      JSON.parse(stripsGeojson(report, trial)).features.map(
        ({ geometry }: { geometry: { coordinates: number[][][] } }) => geometry.coordinates[0]![0]![0],
      );
    longitudes(run).forEach((longitude, i) => {
      expect(Math.abs(longitude - longitudes(there)[i]!)).toBeLessThan(1e-10);
    });
    const files = await answerFiles(run.report, { field: run.field, trial: run.trial });
    expect(files.length).toBeGreaterThan(0);
  });

  it('is where cleanings and lag are looked at too', async () => {
    const [grid, other] = await Promise.all(
      [plannedElsewhere(), demoTrial()].map((trial) => cleaningsOfTrial(trial, FILES, {})),
    );
    if (!grid?.ok || !other?.ok || grid.value === null || other.value === null)
      throw new Error('expected two grids');
    expect(grid.value.comparisons[0]!.least).toBeCloseTo(other.value.comparisons[0]!.least, 6);
    const [lag, ownLag] = await Promise.all(
      [plannedElsewhere(), demoTrial()].map((trial) => lagOfTrial(trial, FILES, {})),
    );
    const flow = (outcome: typeof lag) => (outcome?.ok ? outcome.value[0]?.flow : null);
    expect(flow(lag)?.kind).toBe(flow(ownLag)?.kind);
  });
});
