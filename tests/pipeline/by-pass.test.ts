import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { answerFiles } from '../../src/export/answer-files.ts';
import { placesOfStrips } from '../../src/harvest/layout-faults.ts';
import { readLayoutSource } from '../../src/intake/read-source.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { trialFromFiles } from '../../src/pipeline/trial-from-files.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { reportOf, stripverdict } from '../cli/run-stripverdict.ts';
import { harvestText, stripList } from '../simulator/field-by-pass.ts';
import { textFile } from './demo-input.ts';

const HARVEST = textFile('yield.csv', harvestText());

async function trialOf(passes: boolean): Promise<TrialDocument> {
  const taken = await trialFromFiles(null, [textFile('strips.csv', stripList(passes)), HARVEST]);
  if (!taken.ok) throw new Error(JSON.stringify(taken.problems));
  return taken.value;
}

async function readLayoutText(text: string) {
  const read = await readLayoutSource(
    { ...textFile('map.geojson', text), beside: [] },
    {
      strip: null,
      treatment: null,
      block: null,
    },
  );
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

describe('a trial whose strips were never drawn', () => {
  it('asks for passes, and shows them numbered in field order', async () => {
    const { report, field } = await analyseTrial(await trialOf(false), [HARVEST]);
    expect(report.problems.map(({ code }) => code)).toContain('noStripPolygons');
    expect(report.responses).toEqual([]);
    expect(field?.strips).toEqual([]);
    expect(field?.passes?.passes.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(field?.passes?.numbering).toEqual({ files: ['yield.csv'], count: 10, from: 'west', acrossM: 81 });
    const wests = field?.passes?.passes.map(({ ring }) => Math.min(...ring.map(([east]) => east))) ?? [];
    const gaps = wests.slice(1).map((west, k) => west - wests[k]!);
    for (const gap of gaps) expect(Math.abs(gap - 9)).toBeLessThan(1.5);
  });

  it('is answered once they are said: values, map, cleanings, and places for the order of treatments', async () => {
    const { report, field, trial } = await analyseTrial(await trialOf(true), [HARVEST]);
    const [yields] = report.responses;
    const difference = yields?.comparisons[0]?.difference ?? Number.NaN;
    expect(yields?.unit).toBe('t/ha');
    // The simulated difference is 600 kg/ha.
    expect(Math.abs(Math.abs(difference) - 0.6)).toBeLessThan(0.1);
    expect(report.strips.map(({ place }) => place)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(report.strips.map(({ areaM2 }) => areaM2)).toEqual(Array(8).fill(null));
    for (const { harvestedAreaM2 } of report.strips) expect(harvestedAreaM2).toBeGreaterThan(9 * 230);
    // 108 mixes, one of them the own one, and 13 single changes: strips by pass have no side margin.
    expect(yields?.cleanings?.tried).toBe(108 + 13);
    expect(field?.strips).toHaveLength(8);
    expect(report.problems.map(({ code }) => code)).toContain('passesNotHeld');
    expect(trial.strips.every(({ polygon }) => polygon === null)).toBe(true);
  });

  it('takes weights of a scale over the ground that the passes cut', async () => {
    const weights = textFile(
      'weights.csv',
      ['strip,weight (kg)', ...Array.from({ length: 8 }, (_, k) => `S${k + 1},${1500 + 20 * k}`), ''].join(
        '\n',
      ),
    );
    const taken = await trialFromFiles(await trialOf(true), [weights]);
    if (!taken.ok) throw new Error(JSON.stringify(taken.problems));
    const { report } = await analyseTrial(taken.value, [HARVEST, weights]);
    expect(report.weighed?.loads).toHaveLength(8);
    report.strips.forEach(({ values }, k) => {
      const yieldTPerHa = values.find(({ response }) => response === 'yield')?.value ?? Number.NaN;
      // The header cut 9 m by 300 m and up to 4 m beyond the ends, at standard moisture or as recorded.
      const areaHa = (1500 + 20 * k) / 1000 / yieldTPerHa;
      expect(areaHa).toBeGreaterThan(0.27);
      expect(areaHa).toBeLessThan(0.9 * 0.306);
    });
  });

  it('is handed over as a map too, drawn from the passes', async () => {
    const run = await analyseTrial(await trialOf(true), [HARVEST]);
    const files = await answerFiles(run.report, { field: run.field, trial: run.trial });
    const map = files.find(({ name }) => name === 'strips.geojson');
    const { features } = JSON.parse(String(map?.content));
    expect(features).toHaveLength(8);
    const { layout } = await readLayoutText(JSON.stringify({ type: 'FeatureCollection', features }));
    // Read back as a layout it gives the strips again, 9 m wide, from west to east.
    const places = placesOfStrips(layout.strips);
    expect(layout.strips.map(({ id }) => places.get(id))).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(features[0].properties.outline).toBe('ground of its harvest passes');
    expect(files.map(({ name }) => name)).toContain('field-map.svg');
  });

  it('is refused when the file behind the numbers is another one', async () => {
    const trial = await trialOf(true);
    const { field } = await analyseTrial(trial, [HARVEST]);
    const numbering = field?.passes?.numbering;
    if (numbering === undefined) throw new Error('expected passes');
    const held = applyCommand(trial, { name: 'assignPasses', passesOfStrips: {}, numbering });
    if (!held.ok) throw new Error(JSON.stringify(held.problems));
    const codes = async (rows: string) => {
      const { report } = await analyseTrial(held.value, [textFile('yield.csv', rows)]);
      return report.problems.map(({ code }) => code);
    };
    expect(await codes(harvestText())).not.toContain('passesNotHeld');
    // The first tenth of the log is gone, and with it a border pass.
    const lines = harvestText().split('\n');
    const shorter = [lines[0], ...lines.slice(Math.ceil(lines.length / 8))].join('\n');
    expect(await codes(shorter)).toContain('passesRenumbered');
  });

  it('says that a repeated order of treatments confounds, from the places of the passes', async () => {
    const trial = await trialOf(true);
    const [first, second] = trial.treatments.map(({ id }) => id);
    const strips = trial.strips.map((strip, k) => ({ ...strip, treatment: (k % 2 === 0 ? first : second)! }));
    const { report } = await analyseTrial({ ...trial, strips }, [HARVEST]);
    const said = report.responses[0]?.answers.flatMap(({ weakens }) => weakens).join(' ');
    expect(said).toContain('in the same order in every block');
  });

  it('is answered on the command line by a list with passes', () => {
    const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
    writeFileSync(join(folder, 'strips.csv'), stripList(true));
    writeFileSync(join(folder, 'yield.csv'), harvestText());
    const ran = stripverdict(
      ['answer', '--layout', 'strips.csv', '--harvest', 'yield.csv', '--json'],
      folder,
    );
    expect(ran.code).toBe(0);
    const report = reportOf(ran);
    expect(report.strips).toHaveLength(8);
    expect(report.responses[0]?.answers).toHaveLength(1);
  });
});
