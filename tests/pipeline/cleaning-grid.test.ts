import { describe, expect, it } from 'vitest';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { cleaningGrid } from '../../src/pipeline/cleaning-grid.ts';
import { cleaningTurns } from '../../src/pipeline/cleaning-turns.ts';
import { type Cleaning, settingsUnder } from '../../src/pipeline/cleanings-tried.ts';
import { KeptWork } from '../../src/pipeline/kept-work.ts';
import { findCrop } from '../../src/trial/crops.ts';
import { cleaningChanges } from '../../src/words/cleaning-sentences.ts';
import { demoFile, demoTrial } from './demo-input.ts';

const trial = demoTrial();
async function demoPoints(): Promise<HarvestPointsInput> {
  const { bytes, name } = demoFile('harvest.csv');
  const read = await readPoints(bytes, name, trial.harvestFiles[0] ?? null, findCrop(trial.crop));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}
const points = await demoPoints();
const grid = cleaningGrid(trial, [points])!;

describe('the trial under a grid of cleanings', () => {
  it('tries at least a hundred, each once, the trial’s own first', () => {
    expect(grid.results.length).toBeGreaterThanOrEqual(100);
    const keys = new Set(grid.results.map(({ cleaning }) => JSON.stringify(cleaning)));
    expect(keys.size).toBe(grid.results.length);
    expect(grid.results.map(({ cleaning }) => cleaning.isOwn).indexOf(true)).toBe(0);
    expect(grid.results.filter(({ cleaning }) => cleaning.isOwn).length).toBe(1);
  });

  it('has under the trial’s own settings the verdicts of the report', async () => {
    const { report } = await analyseTrial(trial, [demoFile('layout.geojson'), demoFile('harvest.csv')]);
    const answers = report.responses.find(({ name }) => name === 'yield')!.answers;
    expect(grid.comparisons.length).toBe(answers.length);
    grid.comparisons.forEach(({ own }, k) => {
      const { a, b, difference, money, estimate, interval } = answers[k]!;
      expect(own).toMatchObject({ a, b, difference, money });
      expect(own.estimate).toBeCloseTo(estimate, 11);
      expect(own.lower).toBeCloseTo(interval.lower!, 9);
      expect(own.upper).toBeCloseTo(interval.upper!, 9);
    });
  });

  it('gives each cleaning the strip values that a whole run under its settings gives', () => {
    const under = harvestVariants(trial, [points])!;
    // Every eleventh covers each lag and margin, and each screen on and off.
    const some = grid.results.filter((_, k) => k % 11 === 3);
    for (const { cleaning } of some) {
      const varied = settingsUnder(cleaning, trial.harvest);
      const whole = harvestPoints({ ...trial, harvest: { ...trial.harvest, ...varied } }, [points]);
      if (!whole.ok) throw new Error(JSON.stringify(whole.problems));
      expect(under(varied)).toEqual(whole.value.strips.map(({ values }) => values.yield));
    }
    const levels = Object.keys(some[0]!.cleaning).filter((key) => key !== 'isOwn') as (keyof Cleaning)[];
    for (const key of levels)
      expect(new Set(some.map(({ cleaning }) => cleaning[key])).size, key).toBe(
        key.endsWith('S') || key.endsWith('M') ? 3 : 2,
      );
  });

  it('counts the flips that its own results hold, and spans their differences', () => {
    for (const comparison of grid.comparisons) {
      const all = grid.results.map(
        ({ verdicts }) => verdicts!.find(({ a, b }) => a === comparison.a && b === comparison.b)!,
      );
      const other = all.filter(({ difference }) => difference !== comparison.own.difference);
      expect(comparison.differenceFlips).toBe(other.length);
      expect(all.every(({ estimate }) => estimate >= comparison.least && estimate <= comparison.most)).toBe(
        true,
      );
      expect(comparison.least).toBeLessThan(comparison.most);
    }
    const most = Math.max(...grid.comparisons.map((one) => Math.max(one.differenceFlips, one.moneyFlips)));
    expect(grid.flipped).toBeGreaterThanOrEqual(most);
    expect(grid.judged).toBe(grid.results.length);
  });

  it('tells progress up to 1, and gives nothing after a cancel', () => {
    const shares: number[] = [];
    let asked = 0;
    const cancelled = cleaningGrid(trial, [points], {
      onProgress: (share) => shares.push(share),
      isCancelled: () => ++asked > 5,
    });
    expect(cancelled).toBeNull();
    expect(shares.length).toBe(5);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
  });

  it('turns a screen that is off on with its starting settings, and moves no lag without time', () => {
    const off = { ...trial.harvest, outlierRobustSd: null, endMarginM: 0 };
    const untimed = { ...points, timeS: null };
    const results = cleaningGrid({ ...trial, harvest: off }, [untimed])!.results;
    expect(new Set(results.map(({ cleaning }) => cleaning.lagMovedS))).toEqual(new Set([0]));
    expect(results[0]?.cleaning).toMatchObject({ outlierScreen: false, endMarginM: 0, isOwn: true });
    expect(settingsUnder({ ...results[0]!.cleaning, outlierScreen: true }, off).outlierRobustSd).toBe(3);
  });

  it('is nothing where the points lie elsewhere, or nothing can be judged', () => {
    const elsewhere = { ...points, latitude: points.latitude.map((degrees) => degrees + 1) };
    expect(cleaningGrid(trial, [elsewhere])).toBeNull();
    expect(cleaningGrid({ ...trial, strips: trial.strips.slice(0, 1) }, [points])).toBeNull();
  });
});

describe('the cleanings in the report', () => {
  const files = [demoFile('layout.geojson'), demoFile('harvest.csv')];

  it('are those of the grid, and each comparison says whether it hangs on them', async () => {
    const { report } = await analyseTrial(trial, files);
    const { answers, cleanings } = report.responses.find(({ name }) => name === 'yield')!;
    expect(cleanings).toMatchObject({ tried: grid.results.length, judged: grid.judged });
    cleanings!.comparisons.forEach((one, k) => {
      const { least, most, differenceFlips, moneyFlips } = grid.comparisons[k]!;
      expect(one).toMatchObject({ least, most, differenceFlips, moneyFlips });
      const flips = differenceFlips + moneyFlips > 0;
      expect(answers[k]!.weakens.some((line) => line.startsWith('The cleaning has a say'))).toBe(flips);
      expect(answers[k]!.reasons.some((line) => line.startsWith('The cleaning does not'))).toBe(!flips);
    });
    // Law: what turns a verdict alone does so among the results, and what is named as often changed is.
    cleaningTurns(grid).forEach(({ alone, often }, k) => {
      const { a, b, own } = grid.comparisons[k]!;
      const turned = grid.results.filter(({ verdicts }) => {
        const one = verdicts!.find((verdict) => verdict.a === a && verdict.b === b)!;
        return one.difference !== own.difference || one.money !== own.money;
      });
      const changes = turned.map(({ cleaning }) => cleaningChanges(cleaning, grid.results[0]!.cleaning));
      expect(alone).toEqual(changes.filter(({ length }) => length === 1).flat());
      const all = grid.results.map(({ cleaning }) => cleaningChanges(cleaning, grid.results[0]!.cleaning));
      for (const { change, count, of } of often) {
        expect(count).toBe(changes.filter((own) => own.includes(change)).length);
        expect(of).toBe(all.filter((own) => own.includes(change)).length);
      }
      const said = answers[k]!.weakens.find((line) => line.startsWith('The cleaning has a say'));
      if (said !== undefined)
        for (const change of [...alone, ...often.map((one) => one.change).filter(() => alone.length === 0)])
          expect(said).toContain(change);
    });
  });

  it('judges kept strips anew when prices change, as a run of its own does', async () => {
    const kept = new KeptWork();
    await analyseTrial(trial, files, { kept });
    const dearer = { ...trial, economics: { ...trial.economics, pricePerKg: 0.9 } };
    const again = await analyseTrial(dearer, files, { kept });
    const alone = await analyseTrial(dearer, files);
    expect(again.report).toEqual(alone.report);
  });
});
