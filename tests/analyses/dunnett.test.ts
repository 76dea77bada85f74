import { describe, expect, it } from 'vitest';
import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { dunnettDistribution } from '../../analyses/distributions/dunnett-distribution.ts';
import { multivariateTMaximum } from '../../analyses/distributions/multivariate-t-maximum.ts';
import { tTwoSidedP } from '../../analyses/distributions/t.ts';
import { dunnett } from '../../analyses/dunnett.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  labels,
  numbers,
  refusalOf,
  type Table,
} from './fixture-data.ts';

interface BloodCounts {
  readonly computed: {
    readonly dunnett: {
      readonly df: number;
      readonly t: readonly number[];
      readonly p_two_sided: readonly number[];
      readonly p_greater: readonly number[];
      readonly crit05_two: number;
      readonly crit05_one: number;
      readonly crit01_two: number;
    };
  };
}

const table = fixtureTable('dunnett-blood-counts/data.csv');
const blood = accepted(
  adjustedMeans(
    accepted(fitLinearModel(responseFromValues(numbers(table, 'y')), [factor(table, 'grp')])),
    'grp',
  ),
);
const check = labels(table, 'grp').indexOf('Control');

describe('blood counts, 6 control and 4 and 5 treated animals (Dunnett 1955; computed by deterministic integration)', () => {
  const want = fixtureExpected<BloodCounts>('dunnett-blood-counts').computed.dunnett;

  it('two-sided: p, critical values', () => {
    const got = accepted(dunnett(blood, check, 0.05));
    expect([got.df, got.exact, got.leastDifference]).toEqual([want.df, true, null]);
    expect(Math.abs(got.criticalValue - want.crit05_two)).toBeLessThan(1e-7);
    expect(Math.abs(accepted(dunnett(blood, check, 0.01)).criticalValue - want.crit01_two)).toBeLessThan(
      1e-7,
    );
    got.comparisons.forEach((row, i) => {
      expectRelative(row.t, want.t[i]!, 1e-10);
      expect(Math.abs(row.p - want.p_two_sided[i]!)).toBeLessThan(1e-8);
      expect(row.lower! > 0 || row.upper! < 0).toBe(row.p < 0.05);
    });
  });

  it('one-sided: p, critical value, one end of the interval', () => {
    const got = accepted(dunnett(blood, check, 0.05, 'greater'));
    expect(Math.abs(got.criticalValue - want.crit05_one)).toBeLessThan(1e-7);
    got.comparisons.forEach((row, i) => {
      expect(Math.abs(row.p - want.p_greater[i]!)).toBeLessThan(1e-8);
      expect([row.upper, row.lower! > 0]).toEqual([null, row.p < 0.05]);
    });
  });

  it('less is greater with the response turned over, also for negative t', () => {
    const turned = accepted(
      adjustedMeans(
        accepted(
          fitLinearModel(responseFromValues(numbers(table, 'y').map((y) => -y)), [factor(table, 'grp')]),
        ),
        'grp',
      ),
    );
    const less = accepted(dunnett(turned, check, 0.05, 'less')).comparisons;
    const greater = accepted(dunnett(blood, check, 0.05, 'greater')).comparisons;
    less.forEach((row, i) => {
      expectRelative(row.p, greater[i]!.p, 1e-10);
    });
    for (const row of accepted(dunnett(blood, check, 0.05, 'less')).comparisons) {
      expect(row.t).toBeGreaterThan(0);
      expect(row.p).toBeGreaterThan(0.5);
      expect(row.p).toBeLessThanOrEqual(1);
    }
  });
});

describe('other trials', () => {
  it('two treatments: the t test', () => {
    const pair = table.filter((row) => row.grp !== 'A');
    const means = accepted(
      adjustedMeans(
        accepted(fitLinearModel(responseFromValues(numbers(pair, 'y')), [factor(pair, 'grp')])),
        'grp',
      ),
    );
    const [row] = accepted(dunnett(means, 0, 0.05)).comparisons;
    expectRelative(row!.p, tTwoSidedP(row!.t, row!.df), 1e-11);
  });

  it('complete blocks: equal correlations of one half, one least difference', () => {
    const soybean = fixtureTable('snedecor-soybean/data.csv');
    const fit = accepted(
      fitLinearModel(responseFromValues(numbers(soybean, 'failures')), [
        factor(soybean, 'block'),
        factor(soybean, 'trt'),
      ]),
    );
    const got = accepted(dunnett(accepted(adjustedMeans(fit, 'trt')), 0, 0.05));
    const published = dunnettDistribution(new Array<number>(4).fill(Math.SQRT1_2), 16, 'two').upperQuantile(
      0.05,
    );
    expectRelative(got.criticalValue, published, 1e-10);
    const row = fixtureTable('critical-values/dunnett-equal-n.csv').find(
      ({ alpha, sides, k_treatments_excl_control: k, df }) =>
        alpha === '0.05' && sides === '2' && k === '4' && df === '16',
    );
    expect(Math.abs(got.criticalValue - Number(row!.d))).toBeLessThan(1e-7);
    expectRelative(got.leastDifference, got.criticalValue * got.comparisons[0]!.standardError, 1e-14);
  });

  it('lost plots in blocks: on the true correlations, and the simulated chance of a false difference is alpha', () => {
    const soybean = fixtureTable('snedecor-soybean/data.csv').filter(
      (_, i) => ![1, 2, 8, 14, 15].includes(i),
    );
    const means = soybeanMeans(soybean);
    const got = accepted(dunnett(means, 0, 0.05));
    expect([got.exact, got.leastDifference]).toEqual([true, null]);
    expect(got.integrationError).toBeLessThan(1e-7);
    for (const row of got.comparisons) {
      expect(row.p).toBeGreaterThan(row.pUnadjusted);
      expect(row.p).toBeLessThan(4 * row.pUnadjusted);
      expect(row.lower! > 0 || row.upper! < 0).toBe(row.p < 0.05);
    }
    const draws = 200_000;
    const chance = simulatedChance(means, got.criticalValue, draws);
    expect(Math.abs(chance - 0.05)).toBeLessThan(3 * Math.sqrt((0.05 * 0.95) / draws));
  });

  it('a covariate: the simulated chance is alpha; rows in another order change nothing', () => {
    const soybean = fixtureTable('snedecor-soybean/data.csv');
    const covariate = soybean.map((_, i) => ((i * 7) % 11) + ((i * i) % 5));
    const got = accepted(dunnett(soybeanMeans(soybean, covariate), 0, 0.05));
    expect(got.exact).toBe(true);
    const draws = 200_000;
    const chance = simulatedChance(soybeanMeans(soybean, covariate), got.criticalValue, draws);
    expect(Math.abs(chance - 0.05)).toBeLessThan(3 * Math.sqrt((0.05 * 0.95) / draws));
    const turned = accepted(dunnett(soybeanMeans([...soybean].reverse(), [...covariate].reverse()), 4, 0.05));
    expectRelative(turned.criticalValue, got.criticalValue, 1e-8);
  });

  it('beyond 12 comparisons that are no products: the bound, and it is said', () => {
    const plots = Array.from({ length: 56 }, (_, i) => i).filter((i) => ![3, 20, 37].includes(i));
    const fit = accepted(
      fitLinearModel(responseFromValues(plots.map((i) => ((i * i * 31) % 97) / 7)), [
        { kind: 'factor', id: 'b', levelOfPlot: plots.map((i) => Math.floor(i / 14)), levelCount: 4 },
        { kind: 'factor', id: 't', levelOfPlot: plots.map((i) => i % 14), levelCount: 14 },
      ]),
    );
    const means = accepted(adjustedMeans(fit, 't'));
    const got = accepted(dunnett(means, 0, 0.05));
    expect(got.exact).toBe(false);
    const draws = 50_000;
    const chance = simulatedChance(means, got.criticalValue, draws);
    expect(chance).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / draws));
    expect(chance).toBeGreaterThan(0.045);
  });

  it('refuses alpha out of range and no error df', () => {
    expect(refusalOf(dunnett(blood, check, 0.9)).code).toBe('alphaOutOfRange');
    const term: FactorTerm = { kind: 'factor', id: 't', levelOfPlot: [0, 1, 2], levelCount: 3 };
    const single = accepted(
      adjustedMeans(accepted(fitLinearModel(responseFromValues([1, 2, 4]), [term])), 't'),
    );
    expect(refusalOf(dunnett(single, 0, 0.05)).code).toBe('noErrorDf');
  });
});

/** Means of the soybean trial, or of some of its plots, adjusted for a covariate where one is given. */
function soybeanMeans(plots: Table, covariate?: readonly number[]): AdjustedMeans {
  const terms: ModelTerm[] = [factor(plots, 'block'), factor(plots, 'trt')];
  if (covariate !== undefined) terms.push({ kind: 'covariate', id: 'x', valueOfPlot: covariate });
  const fit = accepted(fitLinearModel(responseFromValues(numbers(plots, 'failures')), terms));
  return accepted(adjustedMeans(fit, 'trt'));
}

/** How often max |T| exceeds the critical value when no treatment differs: simulated, seeded, on the true correlations. */
function simulatedChance(means: AdjustedMeans, criticalValue: number, draws: number): number {
  const random = seededGenerator(1955);
  const root = choleskyRoot(means.unitCovariance);
  const { df } = means.error;
  const v = means.unitCovariance;
  let count = 0;
  for (let draw = 0; draw < draws; draw++) {
    const z = root.map(() => normalDeviate(random));
    const errors = root.map((row) => row.reduce((sum, weight, j) => sum + weight * z[j]!, 0));
    let chi = 0;
    for (let i = 0; i < df; i++) chi += normalDeviate(random) ** 2;
    const s = Math.sqrt(chi / df);
    const exceeds = errors.some(
      (error, i) =>
        i > 0 &&
        Math.abs(error - errors[0]!) > criticalValue * s * Math.sqrt(v[i]![i]! + v[0]![0]! - 2 * v[i]![0]!),
    );
    if (exceeds) count++;
  }
  return count / draws;
}

function normalDeviate(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Lower triangle L with L L' = matrix. */
function choleskyRoot(matrix: readonly (readonly number[])[]): number[][] {
  const root: number[][] = [];
  matrix.forEach((row, i) => {
    const own: number[] = [];
    for (let j = 0; j <= i; j++) {
      const known = own.reduce(
        (sum, weight, k) => sum + weight * (j === i ? own[k]! : (root[j]![k] ?? 0)),
        0,
      );
      own.push(j === i ? Math.sqrt(row[i]! - known) : (row[j]! - known) / root[j]![j]!);
    }
    root.push(own);
  });
  return root;
}

describe('a comparison that carries nearly all that the others share (three blocks, a chain of two strips)', () => {
  const sharing = (square: number) => [Math.sqrt(square), 0.7, 0.3];
  const correlationOf = (loadings: readonly number[]) =>
    loadings.map((a, i) => loadings.map((b, j) => (i === j ? 1 : a * b)));

  // Two integrations that share no code but the studentizing: over the check's error, and over common factors.
  it.each([0.98, 0.99, 0.999])(
    'the multivariate t gives what the product form gives: %s shared',
    (square) => {
      const product = dunnettDistribution(sharing(square), 4, 'two');
      const general = multivariateTMaximum(correlationOf(sharing(square)), 4, 'two');
      for (const q of [1.5, 2.5, 4])
        expect(Math.abs(general.upperTail(q) - product.upperTail(q))).toBeLessThan(1e-8);
    },
  );

  it('comes back, with error stated, where one loading is 1 to rounding', () => {
    const loadings = [1 - 1e-12, 0.7, 0.3];
    const v = correlationOf(loadings);
    const means: AdjustedMeans = {
      term: 'treatment',
      means: [0, 1, 2, 3].map((level) => ({
        level,
        n: 3,
        rawMean: level,
        mean: level,
        deviation: level,
        standardError: 1,
      })),
      unitCovariance: [[0, 0, 0, 0], ...v.map((row) => [0, ...row])],
      error: { df: 4, ss: 4, ms: 1 },
    };
    const got = accepted(dunnett(means, 0, 0.05));
    expect(got.exact).toBe(true);
    expect(got.integrationError).toBeLessThanOrEqual(1e-8);
    // At least the largest single t, at most their sum (Bonferroni).
    const alone = got.comparisons.map(({ t }) => tTwoSidedP(t, 4));
    for (const [i, { p }] of got.comparisons.entries()) {
      expect(p).toBeGreaterThan(alone[i]!);
      expect(p).toBeLessThanOrEqual(3 * alone[i]!);
    }
  });
});
