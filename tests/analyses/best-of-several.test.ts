import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { chanceOfBest } from '../../analyses/chance-of-best.ts';
import { tUpperTail } from '../../analyses/distributions/t.ts';
import { flatteryOfBest } from '../../analyses/flattery-of-best.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { replicatesCompletelyRandomized } from '../../analyses/replicates-completely-randomized.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { factor, fixtureTable, numbers } from './fixture-data.ts';

describe('how much the best of several is flattered', () => {
  it('is the tabulated expected largest of k normal values (Harter 1961, five decimals, from memory)', () => {
    const table = { 2: 0.56419, 3: 0.84628, 4: 1.02938, 5: 1.16296, 6: 1.26721, 8: 1.4236, 10: 1.53875 };
    for (const [k, expected] of Object.entries(table))
      expect(flatteryOfBest(Number(k))).toBeCloseTo(expected, 5);
    expect(flatteryOfBest(1)).toBeCloseTo(0, 12);
    expect(() => flatteryOfBest(0)).toThrow(RangeError);
  });

  it('has closed forms for two and three: 1/sqrt(pi) and 3/(2 sqrt(pi))', () => {
    expect(flatteryOfBest(2)).toBeCloseTo(1 / Math.sqrt(Math.PI), 12);
    expect(flatteryOfBest(3)).toBeCloseTo(1.5 / Math.sqrt(Math.PI), 12);
  });
});

describe('the chance of being the best', () => {
  const table = fixtureTable('plant-growth/data.csv');
  const fitOf = (groups: readonly string[]) => {
    const rows = table.filter((row) => groups.includes(row.group!));
    const fit = fitLinearModel(responseFromValues(numbers(rows, 'weight')), [factor(rows, 'group')]);
    if (isRefusal(fit)) throw new Error(fit.code);
    const means = adjustedMeans(fit, 'group');
    if (isRefusal(means)) throw new Error(means.code);
    return means;
  };

  it('of two treatments is the one-sided tail of their t (flat prior), within 4.5 Monte Carlo errors', () => {
    const means = fitOf(['ctrl', 'trt1']);
    const found = chanceOfBest(means, 'higher', seededGenerator(11), 20_000);
    if (isRefusal(found)) throw new Error(found.code);
    const difference = means.means[0]!.mean - means.means[1]!.mean;
    const standardError = Math.sqrt(means.error.ms! * 0.2);
    const exact = tUpperTail(-difference / standardError, means.error.df);
    expect(Math.abs(found.chances[0]! - exact)).toBeLessThan(4.5 * found.standardError);
    const low = chanceOfBest(means, 'lower', seededGenerator(12), 20_000);
    if (isRefusal(low)) throw new Error(low.code);
    expect(Math.abs(low.chances[1]! - exact)).toBeLessThan(4.5 * low.standardError);
  });

  it('adds up to one, ranks as the means do, and is the same for the same seed', () => {
    const means = fitOf(['ctrl', 'trt1', 'trt2']);
    const found = chanceOfBest(means, 'higher', seededGenerator(3));
    if (isRefusal(found)) throw new Error(found.code);
    expect(found.chances.reduce((sum, own) => sum + own, 0)).toBeCloseTo(1, 12);
    expect(found.chances[2]!).toBeGreaterThan(found.chances[0]!);
    expect(found.chances[0]!).toBeGreaterThan(found.chances[1]!);
    expect(chanceOfBest(means, 'higher', seededGenerator(3))).toEqual(found);
  });
});

describe('replicates without blocks', () => {
  it('are those of R for two groups: power.t.test(delta = 1, sd = 1, power = .8) needs 17, delta = .5 needs 64', () => {
    const needed = (differencePercent: number) =>
      replicatesCompletelyRandomized({
        treatments: 2,
        cvPercent: 10,
        differencePercent,
        power: 0.8,
        alpha: 0.05,
      });
    expect(needed(10)).toMatchObject({ replicates: 17, errorDf: 32 });
    expect(needed(5)).toMatchObject({ replicates: 64, errorDf: 126 });
    expect(needed(0.01)).toMatchObject({ replicates: null });
  });
});
