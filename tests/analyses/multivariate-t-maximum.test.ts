import { describe, expect, it } from 'vitest';
import { lowerRoot } from '../../analyses/cholesky.ts';
import { dunnettDistribution } from '../../analyses/distributions/dunnett-distribution.ts';
import { multivariateTMaximum } from '../../analyses/distributions/multivariate-t-maximum.ts';
import { normalUpperTail } from '../../analyses/distributions/normal.ts';
import { studentizedRange } from '../../analyses/distributions/studentized-range.ts';
import { tTwoSidedP, tUpperTail } from '../../analyses/distributions/t.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { expectRelative, fixtureExpected, fixtureTable } from './fixture-data.ts';

type Matrix = readonly (readonly number[])[];

const equal = (k: number, rho: number): number[][] =>
  Array.from({ length: k }, (_, i) => Array.from({ length: k }, (_, j) => (i === j ? 1 : rho)));
const products = (loadings: readonly number[]): number[][] =>
  loadings.map((a, i) => loadings.map((b, j) => (i === j ? 1 : a * b)));

describe('correlations of lost plots and covariates (fixtures/multivariate-t-maximum: box integrals to 5e-11)', () => {
  const cases =
    fixtureExpected<
      readonly {
        readonly from: string;
        readonly df: number;
        readonly correlation: Matrix;
        readonly tails: readonly { readonly q: number; readonly p: number }[];
      }[]
    >('multivariate-t-maximum');

  it.each(cases)('$from: every tail within the error stated', ({ df, correlation, tails }) => {
    const got = multivariateTMaximum(correlation, df, 'two');
    expect(got.error).toBeLessThan(5e-5);
    expect(tails.length).toBe(3);
    for (const { q, p } of tails) {
      expect(Math.abs(got.upperTail(q) - p), `q ${q}`).toBeLessThan(Math.max(2e-9, got.error));
      if (got.error <= 1e-8) expectRelative(got.upperTail(q), p, 2e-9);
    }
  });

  it('up to 4 comparisons, and with one covariate and no lost plot, factors alone carry it', () => {
    const carried = cases.filter(
      ({ correlation }) => multivariateTMaximum(correlation, 8, 'two').error <= 1e-8,
    );
    expect(carried.length).toBeGreaterThanOrEqual(5);
    expect(carried.map((own) => own.correlation.length)).toEqual(expect.arrayContaining([3, 4, 5]));
  });

  it('one-sided where the lattice adds its part, below zero too: simulated, seeded', () => {
    const lattice = cases.filter(
      ({ correlation, df }) => multivariateTMaximum(correlation, df, 'one').error > 1e-8,
    );
    expect(lattice.length).toBeGreaterThan(1);
    for (const { correlation } of lattice) {
      const got = multivariateTMaximum(correlation, Infinity, 'one');
      expect(got.error).toBeLessThan(1e-4);
      const draws = 200_000;
      const points = [-0.6, 0, 0.9, 2];
      const seen = simulatedTails(correlation, points, draws);
      points.forEach((q, i) => {
        const p = got.upperTail(q);
        expect(Math.abs(seen[i]! - p), `q ${q}`).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / draws));
      });
    }
  });

  it('comparisons in another order, or all turned round, are the same', () => {
    const [{ correlation, df }] = [cases[3]!];
    const turned = [...correlation].reverse().map((row) => [...row].reverse());
    const [a, b] = [multivariateTMaximum(correlation, df, 'two'), multivariateTMaximum(turned, df, 'two')];
    for (const q of [0.4, 1.7, 3.2]) expectRelative(a.upperTail(q), b.upperTail(q), 1e-8);
  });
});

describe('the root of a correlation matrix', () => {
  it('multiplied by itself gives the matrix back, singular ones too', () => {
    for (const matrix of [equal(4, 0.3), equal(3, 1), equal(3, -0.5), [[1]]]) {
      const root = lowerRoot(matrix);
      matrix.forEach((row, i) => {
        row.forEach((rho, j) => {
          const product = root[i]!.reduce((sum, weight, m) => sum + weight * root[j]![m]!, 0);
          expect(Math.abs(product - rho)).toBeLessThan(1e-7);
        });
      });
    }
  });
});

describe('special cases', () => {
  it('equal correlation of one half: the table of Dunnett (fixtures/critical-values), up to 12 treatments', () => {
    const rows = fixtureTable('critical-values/dunnett-equal-n.csv').filter(
      ({ k_treatments_excl_control: k, df }) => Number(k) <= 12 && ['2', '5', '12', '30'].includes(df!),
    );
    expect(rows.length).toBeGreaterThan(100);
    for (const { alpha, sides, k_treatments_excl_control: k, df, d } of rows) {
      const got = multivariateTMaximum(equal(Number(k), 0.5), Number(df), sides === '2' ? 'two' : 'one');
      const critical = got.upperQuantile(Number(alpha));
      // The table's one row that is 1.03e-7 off is told in its SOURCE.md.
      expect(Math.abs(critical - Number(d)), `${sides} ${k} ${df} ${alpha}`).toBeLessThan(1.1e-7);
    }
  });

  it('unequal products: the double integral of Dunnett', () => {
    for (const sides of ['one', 'two'] as const)
      for (const loadings of [
        [0.3, 0.8],
        [0.6, 0.7, 0.75, 0.9],
        [0.2, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85],
      ]) {
        const [got, want] = [
          multivariateTMaximum(products(loadings), 7, sides),
          dunnettDistribution(loadings, 7, sides),
        ];
        for (const q of [0.2, 1, 2.5, 6]) expectRelative(got.upperTail(q), want.upperTail(q), 1e-9, `${q}`);
        expectRelative(got.upperQuantile(0.01), want.upperQuantile(0.01), 1e-9);
        if (sides === 'one') expectRelative(got.upperTail(-0.7), want.upperTail(-0.7), 1e-9);
      }
  });

  it('independent, error known: one less the product; a single comparison: t', () => {
    for (const q of [0.5, 1.5, 4]) {
      const tail = 2 * normalUpperTail(q);
      const want = -Math.expm1(6 * Math.log1p(-tail));
      expectRelative(multivariateTMaximum(equal(6, 0), Infinity, 'two').upperTail(q), want, 1e-11);
      expectRelative(multivariateTMaximum([[1]], 5, 'two').upperTail(q), tTwoSidedP(q, 5), 1e-11);
      expectRelative(multivariateTMaximum([[1]], 5, 'one').upperTail(-q), tUpperTail(-q, 5), 1e-11);
    }
  });

  it('independent numerators on one s: the product averaged over s by the midpoint rule (2 df)', () => {
    // On 2 df s^2 is exponential with mean 1, so u = exp(-s^2) is uniform: P = mean over u of 1 - (1 - tail)^k
    const points = 200_000;
    let want = 0;
    for (let i = 0; i < points; i++) {
      const s = Math.sqrt(-Math.log((i + 0.5) / points));
      want += -Math.expm1(4 * Math.log1p(-2 * normalUpperTail(3 * s))) / points;
    }
    expectRelative(multivariateTMaximum(equal(4, 0), 2, 'two').upperTail(3), want, 1e-5);
  });

  it('two comparisons that correlate negatively: two-sided as positively; one-sided the four quadrants make 1', () => {
    for (const q of [0.3, 1.9, 3.1]) {
      const [minus, plus] = [equal(2, -0.4), equal(2, 0.4)].map((own) => multivariateTMaximum(own, 6, 'two'));
      expectRelative(minus!.upperTail(q), plus!.upperTail(q), 1e-9);
    }
    // Sheppard's quadrant: P(both <= 0) = 1/4 + asin(rho) / (2 pi)
    for (const rho of [-0.8, -0.3, 0.6])
      expectRelative(
        multivariateTMaximum(equal(2, rho), 9, 'one').upperTail(0),
        0.75 - Math.asin(rho) / (2 * Math.PI),
        1e-8,
      );
  });

  it('singular: all pairs of 3 and 4 means are the studentized range; equal comparisons are one t', () => {
    for (const groups of [3, 4]) {
      const pairs = Array.from({ length: groups }, (_, a) =>
        Array.from({ length: a }, (_, b) => [a, b]),
      ).flat();
      const same = (x: number, y: number) => (x === y ? 0.5 : 0);
      const correlation = pairs.map(([a, b]) =>
        pairs.map(([c, d]) => same(a!, c!) - same(a!, d!) - same(b!, c!) + same(b!, d!)),
      );
      const [got, want] = [multivariateTMaximum(correlation, 10, 'two'), studentizedRange(groups, 10)];
      expect(got.error).toBeLessThan(5e-4);
      for (const q of [1, 2, 3, 5])
        expect(Math.abs(got.upperTail(q) - want.upperTail(q * Math.SQRT2))).toBeLessThan(got.error);
    }
    const one = multivariateTMaximum(equal(3, 1), 6, 'two');
    for (const q of [1, 2, 3]) expect(Math.abs(one.upperTail(q) - tTwoSidedP(q, 6))).toBeLessThan(one.error);
  });

  it('tails fall; the quantile turns the tail round', () => {
    const got = multivariateTMaximum(products([0.5, 0.6, 0.7]), 5, 'two');
    expect([got.upperTail(0), got.upperTail(Infinity)]).toEqual([1, 0]);
    for (const p of [0.5, 0.05, 1e-6]) expectRelative(got.upperTail(got.upperQuantile(p)), p, 1e-10);
  });

  it('what is no correlation matrix throws', () => {
    expect(() => multivariateTMaximum([], 5, 'two')).toThrow('got 0');
    expect(() => multivariateTMaximum(equal(13, 0.5), 5, 'two')).toThrow('got 13');
    expect(() => multivariateTMaximum([[1, 0.5]], 5, 'two')).toThrow('symmetric');
    expect(() => multivariateTMaximum(equal(2, 1.2), 5, 'two')).toThrow('symmetric');
    expect(() => multivariateTMaximum(equal(2, 0.2), 0, 'two')).toThrow('df');
    expect(() => multivariateTMaximum(equal(2, 0.2), 3, 'two').upperTail(-1)).toThrow('at least 0');
    expect(() => multivariateTMaximum(equal(2, 0.2), 3, 'one').upperQuantile(0.99)).toThrow('p must lie');
  });
});

/** How often the largest of correlated normals exceeds each point. */
function simulatedTails(correlation: Matrix, points: readonly number[], draws: number): number[] {
  const random = seededGenerator(1964);
  const root = lowerRoot(correlation);
  const counts = points.map(() => 0);
  for (let draw = 0; draw < draws; draw++) {
    const z = root.map(() => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()));
    const largest = Math.max(...root.map((row) => row.reduce((sum, weight, j) => sum + weight * z[j]!, 0)));
    points.forEach((point, i) => {
      if (largest > point) counts[i] = counts[i]! + 1;
    });
  }
  return counts.map((count) => count / draws);
}
