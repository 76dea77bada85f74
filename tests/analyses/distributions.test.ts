import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { chiSquaredUpperQuantile, chiSquaredUpperTail } from '../../analyses/distributions/chi-squared.ts';
import { dunnettDistribution } from '../../analyses/distributions/dunnett-distribution.ts';
import { fUpperQuantile, fUpperTail } from '../../analyses/distributions/f.ts';
import { normalUpperQuantile, normalUpperTail } from '../../analyses/distributions/normal.ts';
import {
  studentizedRange,
  studentizedRangeUpperQuantile,
  studentizedRangeUpperTail,
} from '../../analyses/distributions/studentized-range.ts';
import { tTwoSidedP, tUpperQuantile, tUpperTail } from '../../analyses/distributions/t.ts';
import { expectRelative, fixtureTable } from './fixture-data.ts';

const toDf = (text: string) => (text === 'Inf' ? Number.POSITIVE_INFINITY : Number(text));

describe('upper tails against 40-digit values (fixtures/distribution-tails)', () => {
  const rows = fixtureTable('distribution-tails/tails.csv');
  const tails: Record<string, (x: number, df1: number, df2: number) => number> = {
    t: (x, df) => tTwoSidedP(x, df),
    f: (x, df1, df2) => fUpperTail(x, df1, df2),
    'chi-squared': (x, df) => chiSquaredUpperTail(x, df),
    normal: (x) => normalUpperTail(x),
  };

  for (const [name, tail] of Object.entries(tails)) {
    it(`${name}: 1e-12 relative down to p = 1e-13`, () => {
      const own = rows.filter((row) => row.distribution === name);
      expect(own.length).toBeGreaterThan(8);
      for (const { x, df1, df2, p } of own)
        expectRelative(
          tail(Number(x), Number(df1), Number(df2)),
          Number(p),
          1e-12,
          `${name}(${x}; ${df1}, ${df2})`,
        );
    });
  }
});

describe('critical values (fixtures/critical-values)', () => {
  it('t: every row to the 12 digits printed', () => {
    for (const { df, two_sided_alpha: alpha, t } of fixtureTable('critical-values/t-critical.csv'))
      expectRelative(tUpperQuantile(Number(alpha) / 2, toDf(df!)), Number(t), 6e-12, `t(${alpha}; ${df})`);
  });

  it('F: every row to the 12 digits printed, tail and quantile', () => {
    for (const { df1, df2, alpha, F } of fixtureTable('critical-values/f-critical.csv')) {
      if (df2 === 'Inf') continue;
      const [a, b] = [Number(df1), Number(df2)];
      expectRelative(fUpperQuantile(Number(alpha), a, b), Number(F), 1e-11, `F(${alpha}; ${df1}, ${df2})`);
      expectRelative(fUpperTail(Number(F), a, b), Number(alpha), 1e-10, `F tail (${alpha}; ${df1}, ${df2})`);
    }
  });

  it('studentized range: every quantile within 1e-7', () => {
    for (const { alpha, groups, df, q } of fixtureTable('critical-values/studentized-range.csv')) {
      const got = studentizedRangeUpperQuantile(Number(alpha), Number(groups), toDf(df!));
      expect(Math.abs(got - Number(q)), `q(${alpha}; ${groups}, ${df}) = ${got}`).toBeLessThan(1e-7);
    }
  });

  it('studentized range: every tail within 1e-11', () => {
    for (const { q, groups, df, p } of fixtureTable('critical-values/studentized-range-upper-p.csv')) {
      const got = studentizedRangeUpperTail(Number(q), Number(groups), toDf(df!));
      expect(Math.abs(got - Number(p)), `q ${q}, ${groups} groups, ${df} df: ${got}`).toBeLessThan(1e-11);
    }
  });

  it('Dunnett, equal replication: every quantile within 1e-7, the one faulty row by its 25-digit tail', () => {
    for (const row of fixtureTable('critical-values/dunnett-equal-n.csv')) {
      const { alpha, sides, k_treatments_excl_control: k, df, d } = row;
      const loadings = new Array<number>(Number(k)).fill(Math.SQRT1_2);
      const distribution = dunnettDistribution(loadings, toDf(df!), sides === '2' ? 'two' : 'one');
      if (d === '17.82300544') {
        // mpmath, 25 digits; see SOURCE.md
        expectRelative(distribution.upperTail(17.82300544), 0.00999999988579287, 1e-12);
        continue;
      }
      const got = distribution.upperQuantile(Number(alpha));
      expect(Math.abs(got - Number(d)), `d(${alpha}; ${sides} sides, ${k}, ${df}) = ${got}`).toBeLessThan(
        1e-7,
      );
    }
  });

  it('Dunnett: every tail within 1e-9', () => {
    for (const { d, k, df, sides, p } of fixtureTable('critical-values/dunnett-p.csv')) {
      const loadings = new Array<number>(Number(k)).fill(Math.SQRT1_2);
      const got = dunnettDistribution(loadings, toDf(df!), sides === '2' ? 'two' : 'one').upperTail(
        Number(d),
      );
      expect(Math.abs(got - Number(p)), `d ${d}, k ${k}, df ${df}, ${sides} sides: ${got}`).toBeLessThan(
        1e-9,
      );
    }
  });
});

describe('laws', () => {
  it('two groups: the studentized range is sqrt(2) |t|', () => {
    for (const df of [1, 2, 3, 6, 14.5, 60, 1000, Number.POSITIVE_INFINITY])
      for (const q of [0.05, 0.5, 2, 3.64, 8, 20])
        expect(Math.abs(studentizedRangeUpperTail(q, 2, df) - tTwoSidedP(q / Math.SQRT2, df))).toBeLessThan(
          1e-11,
        );
  });

  it('two groups: digits hold in the far tail (relative 1e-11 down to 1e-12)', () => {
    for (const [q, df] of [
      [30, 8],
      [12, 40],
      [11, 200],
      [60, 2],
      [1000, 2],
      [100000, 1],
    ] as const)
      expectRelative(
        studentizedRangeUpperTail(q, 2, df),
        tTwoSidedP(q / Math.SQRT2, df),
        1e-11,
        `q ${q}, df ${df}`,
      );
  });

  it('Dunnett: one treatment is t; independent treatments (loading 0, known error) multiply', () => {
    for (const df of [2, 6, 33]) {
      expectRelative(
        dunnettDistribution([Math.SQRT1_2], df, 'two').upperTail(2.3),
        tTwoSidedP(2.3, df),
        1e-11,
      );
      expectRelative(dunnettDistribution([0.9], df, 'one').upperTail(2.3), tUpperTail(2.3, df), 1e-11);
    }
    const one = normalUpperTail(2);
    const three = dunnettDistribution([0, 0, 0], Number.POSITIVE_INFINITY, 'one').upperTail(2);
    expectRelative(three, 1 - (1 - one) ** 3, 1e-12);
  });

  it('Dunnett on one side below zero: one treatment is t, independent ones multiply', () => {
    expectRelative(dunnettDistribution([0.6], 9, 'one').upperTail(-1.2), tUpperTail(-1.2, 9), 1e-11);
    const both = dunnettDistribution([0, 0], Number.POSITIVE_INFINITY, 'one').upperTail(-0.4);
    expectRelative(both, 1 - normalUpperTail(0.4) ** 2, 1e-12);
  });

  it('Dunnett: loadings near 1 make the treatments one (all equal the check error)', () => {
    const almost = dunnettDistribution([0.99999, 0.99999], 12, 'two').upperTail(2.5);
    expect(almost).toBeGreaterThan(tTwoSidedP(2.5, 12));
    expect(almost).toBeLessThan(1.01 * tTwoSidedP(2.5, 12));
  });

  it('quantiles invert tails', () => {
    for (const p of [0.4, 0.05, 1e-3, 1e-8]) {
      expectRelative(tUpperTail(tUpperQuantile(p, 7), 7), p, 1e-11);
      expectRelative(fUpperTail(fUpperQuantile(p, 3, 9), 3, 9), p, 1e-11);
      expectRelative(chiSquaredUpperTail(chiSquaredUpperQuantile(p, 5), 5), p, 1e-11);
      expectRelative(normalUpperTail(normalUpperQuantile(p)), p, 1e-11);
      const range = studentizedRange(5, 12);
      expectRelative(range.upperTail(range.upperQuantile(p)), p, 1e-11);
    }
    for (const p of [0.5, 0.9, 0.999]) {
      expectRelative(fUpperTail(fUpperQuantile(p, 4, 11), 4, 11), p, 1e-11);
      expectRelative(chiSquaredUpperTail(chiSquaredUpperQuantile(p, 5), 5), p, 1e-11);
    }
  });

  it('t squared is F on 1 df; t is symmetric', () => {
    for (const t of [0.2, 1, 3.7, 20]) expectRelative(fUpperTail(t * t, 1, 13), tTwoSidedP(t, 13), 1e-13);
    expectRelative(tUpperTail(-1.3, 5) + tUpperTail(1.3, 5), 1, 1e-15);
  });
});

describe('jstat as a second opinion, within its known accuracy (1e-6; studentized range 1e-8)', () => {
  it('t, F and the studentized range agree', () => {
    for (const x of [0.7, 1.9, 3.1]) {
      expect(Math.abs(tUpperTail(x, 9) - (1 - jstat.studentt.cdf(x, 9)))).toBeLessThan(1e-6);
      expect(Math.abs(fUpperTail(x, 4, 12) - (1 - jstat.centralF.cdf(x, 4, 12)))).toBeLessThan(1e-6);
      expect(Math.abs(studentizedRangeUpperTail(x, 4, 12) - (1 - jstat.tukey.cdf(x, 4, 12)))).toBeLessThan(
        1e-8,
      );
    }
  });
});

describe('arguments out of bounds throw, giving what they got', () => {
  it.each([
    [() => tTwoSidedP(Number.NaN, 5), 'NaN'],
    [() => tTwoSidedP(1, 0), '0'],
    [() => tUpperQuantile(0, 5), '0'],
    [() => fUpperTail(-1, 2, 3), '-1'],
    [() => fUpperTail(1, 2, Number.POSITIVE_INFINITY), 'Infinity'],
    [() => fUpperQuantile(1, 2, 3), '1'],
    [() => chiSquaredUpperTail(-2, 3), '-2'],
    [() => chiSquaredUpperQuantile(0.1, 0), '0'],
    [() => normalUpperQuantile(1.5), '1.5'],
    [() => normalUpperTail(Number.NaN), 'NaN'],
    [() => studentizedRangeUpperTail(-1, 3, 5), '-1'],
    [() => studentizedRangeUpperTail(1, 1, 5), '1'],
    [() => studentizedRangeUpperQuantile(0.05, 3, -2), '-2'],
    [() => dunnettDistribution([], 5, 'two'), '[]'],
    [() => dunnettDistribution([1], 5, 'two'), '[1]'],
    [() => dunnettDistribution([0.5], 5, 'one').upperQuantile(0.9), '0.9'],
  ])('%s', (call, got) => {
    expect(call).toThrow(RangeError);
    expect(call).toThrow(got);
  });

  it('edges are values: infinity has no tail, zero has all of it', () => {
    expect(tTwoSidedP(Number.POSITIVE_INFINITY, 3)).toBe(0);
    expect(tTwoSidedP(0, 3)).toBe(1);
    expect(fUpperTail(0, 2, 3)).toBe(1);
    expect(fUpperTail(Number.POSITIVE_INFINITY, 2, 3)).toBe(0);
    expect(chiSquaredUpperTail(0, 3)).toBe(1);
    expect(studentizedRangeUpperTail(0, 3, 5)).toBe(1);
    expect(studentizedRangeUpperTail(Number.POSITIVE_INFINITY, 3, 5)).toBe(0);
  });
});
