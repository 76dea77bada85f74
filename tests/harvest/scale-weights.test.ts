import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import { weighStrips } from '../../src/harvest/scale-weights.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { ALREADY_STANDARD, NO_SCREENS, pointsFile, trialOfStrips, withSettings } from './field-of-strips.ts';

/** Eight strips, one full pass each: 9 m wide, 2 m and a second a point, 150 points, wet at 20 %; strip s at 5 + s t/ha. */
const rows = Array.from({ length: 8 }, (_, s) =>
  Array.from({ length: 150 }, (_, t) => ({
    eastM: 12 * s + 6,
    northM: 1 + 2 * t,
    timeS: 400 * s + t,
    distanceM: 2,
    widthM: 9,
    yieldKgPerHa: 5000 + 1000 * s,
    moisturePercent: 20,
  })),
).flat();
const trial = withSettings(trialOfStrips(8, 12, 300), { ...NO_SCREENS, endMarginM: 20 });

function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const wet = pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
const harvest: PointHarvest = unwrap(harvestPoints(trial, [wet]));
/** What the monitor says was cut in each strip, wet, over all 150 points of 18 m². */
const monitorWetKg = (s: number) => ((5000 + 1000 * s) / 10_000) * 150 * 18;
const weightsBy = (factor: (s: number) => number) =>
  trial.strips.map(({ id }, s) => ({
    strips: [id],
    weightKg: monitorWetKg(s) * factor(s),
    moisturePercent: 20,
  }));

describe('weights of strips', () => {
  it('replace the monitor: mass at standard over the ground cut, ends included, though screens took the ends', () => {
    expect(harvest.strips[0]?.pointsKept).toBeLessThan(140);
    const { strips, loads } = unwrap(
      weighStrips(
        trial,
        harvest,
        weightsBy((s) => 1.1 + 0.01 * (s % 3)),
      ),
    );
    loads.forEach(({ ratio, scaleKgPerHa, monitorKgPerHa }, s) => {
      // Analytic: standard is 15 %, so 80/85 of the wet yield.
      const factor = 1.1 + 0.01 * (s % 3);
      expect(monitorKgPerHa).toBeCloseTo(((5000 + 1000 * s) * 80) / 85, 8);
      expect(scaleKgPerHa).toBeCloseTo((factor * (5000 + 1000 * s) * 80) / 85, 8);
      expect(ratio).toBeCloseTo(1 / factor, 12);
      expect(strips[s]?.values.yield).toBe(scaleKgPerHa);
      expect(strips[s]?.values.moisture).toBe(harvest.strips[s]?.values.moisture);
    });
    expect(harvest.cut.map((cut) => cut?.areaM2)).toEqual(new Array(8).fill(150 * 18));
  });

  it('warn where the ratio differs between treatments, and only there', () => {
    const byTreatment = weighStrips(
      trial,
      harvest,
      weightsBy((s) => (s % 2 === 0 ? 1 : 1.1) + 0.003 * (s % 3)),
    );
    expect(byTreatment.problems.map(({ code }) => code)).toEqual(['ratioByTreatment']);
    expect(unwrap(byTreatment).ratioTest.p).toBeLessThan(0.001);
    const byBlock = weighStrips(
      trial,
      harvest,
      weightsBy((s) => 1 + 0.05 * Math.floor(s / 2) + 0.003 * (s % 3)),
    );
    expect(byBlock.problems).toEqual([]);
  });

  it('of one strip in several loads add up, each at its own moisture, and that is said', () => {
    const whole = weightsBy(() => 1);
    const halves = whole.flatMap((load) => [
      { ...load, weightKg: 0.25 * load.weightKg },
      // The same dry matter at 16 % as the rest at 20 %.
      { ...load, weightKg: (0.75 * load.weightKg * 80) / 84, moisturePercent: 16 },
    ]);
    const outcome = weighStrips(trial, harvest, halves);
    expect(outcome.problems.map(({ code }) => code)).toEqual(['weightsAddedUp']);
    const [once, twice] = [unwrap(weighStrips(trial, harvest, whole)), unwrap(outcome)];
    twice.loads.forEach(({ scaleKgPerHa }, s) => {
      expect(scaleKgPerHa).toBeCloseTo(once.loads[s]!.scaleKgPerHa, 8);
    });
  });

  it('take the moisture of the points where the load has none', () => {
    const bare = weightsBy(() => 1).map((weight) => ({ ...weight, moisturePercent: null }));
    const { loads } = unwrap(weighStrips(trial, harvest, bare));
    for (const { ratio } of loads) expect(ratio).toBeCloseTo(1, 12);
  });

  it('leave what cannot be out, and strips that were not weighed without a yield, and say so', () => {
    const [first, second] = weightsBy(() => 1);
    const outcome = weighStrips(trial, harvest, [
      first!,
      { ...second!, strips: [...first!.strips, ...second!.strips] },
      { ...second!, weightKg: -5 },
      { ...second!, strips: ['nowhere'] },
    ]);
    expect(outcome.problems.map(({ code }) => code)).toEqual([
      'weightImpossible',
      'weightStripUnknown',
      'weightOverlaps',
      'stripsWithoutWeight',
    ]);
    for (const { code, details } of outcome.problems) {
      expect(Object.keys(details)).toEqual([
        ...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES],
      ]);
    }
    const yields = unwrap(outcome).strips.map(({ values }) => values.yield);
    expect(yields.slice(1)).toEqual(new Array(7).fill(null));
    expect(yields[0]).toBeGreaterThan(0);
    expect(unwrap(weighStrips(trial, harvest, [])).strips).toEqual(harvest.strips);
  });

  it('are refused where the ground that was cut is not known', () => {
    const bare = rows.map(({ widthM: _, ...row }) => row);
    const noWidth = unwrap(harvestPoints(trial, [pointsFile(bare)]));
    const outcome = weighStrips(
      trial,
      noWidth,
      weightsBy(() => 1),
    );
    expect(outcome.problems.map(({ code }) => code)).toEqual(['weightNeedsArea']);
  });

  it('of several strips of one treatment set their sum, which the monitor shares out', () => {
    const [first, , third] = weightsBy((s) => (s === 0 ? 1.2 : 1.05));
    const together = {
      strips: [...first!.strips, ...third!.strips],
      weightKg: first!.weightKg + third!.weightKg,
      moisturePercent: 20,
    };
    const outcome = weighStrips(trial, harvest, [together]);
    expect(outcome.problems.map(({ code }) => code)).toEqual(['stripsWithoutWeight', 'loadSharedOut']);
    const yields = unwrap(outcome).strips.map(({ values }) => values.yield!);
    // Analytic: the strips are alike in area, so the mean of their yields is the load over both; 5 to 7 as monitored.
    const standard = together.weightKg * (80 / 85);
    expect((yields[0]! + yields[2]!) / 2).toBeCloseTo((standard / (2 * 150 * 18)) * 10_000, 8);
    expect(yields[2]! / yields[0]!).toBeCloseTo(7 / 5, 12);
    expect(unwrap(outcome).ratioTest.p).toBeNull();
  });

  it('of several treatments give all strips one factor, so that no difference in percent moves', () => {
    const [first, second] = weightsBy((s) => (s === 0 ? 0.8 : 1.3));
    const mixed = {
      strips: [...first!.strips, ...second!.strips],
      weightKg: first!.weightKg + second!.weightKg,
      moisturePercent: 20,
    };
    const outcome = weighStrips(trial, harvest, [mixed]);
    expect(outcome.problems.map(({ code }) => code)).toEqual(['loadGivesLevelAlone']);
    const factor = (5 * 0.8 + 6 * 1.3) / (5 + 6);
    expect(unwrap(outcome).levelFactor).toBeCloseTo(factor, 12);
    unwrap(outcome).strips.forEach(({ values }, s) => {
      expect(values.yield! / harvest.strips[s]!.values.yield!).toBeCloseTo(factor, 12);
    });
  });
});
