import { describe, expect, it } from 'vitest';
import { detectableDifference, detectableInStandardErrors } from '../../analyses/detectable-difference.ts';
import { fUpperQuantile, fUpperTail } from '../../analyses/distributions/f.ts';
import { noncentralFUpperTail } from '../../analyses/distributions/noncentral-f.ts';
import { noncentralTUpperTail } from '../../analyses/distributions/noncentral-t.ts';
import { normalUpperTail } from '../../analyses/distributions/normal.ts';
import { tUpperTail } from '../../analyses/distributions/t.ts';
import { powerTwoSidedT } from '../../analyses/power-two-sided-t.ts';
import { powerInBlocks, replicatesNeeded } from '../../analyses/replicates-needed.ts';
import { accepted, expectRelative, fixtureTable, refusalOf } from './fixture-data.ts';

type Row = Readonly<Record<string, number>>;
const table = (name: string): Row[] =>
  fixtureTable(`power-tables/${name}.csv`).map((row) =>
    Object.fromEntries(Object.entries(row).map(([key, value]) => [key, Number(value)])),
  );

describe('noncentral tails', () => {
  it('t and F: 1e-11 relative against 30-digit values (fixtures/distribution-tails)', () => {
    for (const { distribution, x, df1, df2, noncentrality, p } of fixtureTable(
      'distribution-tails/noncentral.csv',
    )) {
      const got =
        distribution === 't'
          ? noncentralTUpperTail(Number(x), Number(df1), Number(noncentrality))
          : noncentralFUpperTail(Number(x), Number(df1), Number(df2), Number(noncentrality));
      expectRelative(got, Number(p), 1e-11, `${distribution} ${x} (${df1}, ${df2}; ${noncentrality})`);
    }
  });

  it('without noncentrality they are the central ones; T^2 is F on 1 df', () => {
    for (const x of [-2, -0.5, 0, 0.7, 3])
      expectRelative(noncentralTUpperTail(x, 7, 0), tUpperTail(x, 7), 1e-12);
    expect(noncentralFUpperTail(2.2, 3, 8, 0)).toBe(fUpperTail(2.2, 3, 8));
    for (const [t, df, shift] of [
      [2.1, 5, 1.3],
      [3.4, 21, 4],
    ] as const) {
      const twoSided = noncentralTUpperTail(t, df, shift) + noncentralTUpperTail(t, df, -shift);
      expectRelative(noncentralFUpperTail(t * t, 1, df, shift * shift), twoSided, 1e-11);
    }
    expectRelative(noncentralTUpperTail(1.2, Number.POSITIVE_INFINITY, 2), normalUpperTail(-0.8), 1e-14);
  });

  it('the two sides of any t make 1', () => {
    for (const [t, shift] of [
      [1.4, 2],
      [-0.3, 1],
      [6, -2],
    ] as const)
      expectRelative(noncentralTUpperTail(t, 4, shift) + noncentralTUpperTail(-t, 4, -shift), 1, 1e-13);
  });

  it('t with a shift however large is settled at once, and rises with the shift all the way', () => {
    for (const df of [1, 9, 200, Number.POSITIVE_INFINITY]) {
      let before = 0;
      for (const shift of [1, 5, 17, 19, 40, 400, 1e9, 1e300]) {
        const p = noncentralTUpperTail(3, df, shift);
        // P(T <= t) is at most P(Z < -shift / 2) + P(3 s > shift / 2); the first alone is below 1e-18 from 18 on.
        expect(p).toBeGreaterThanOrEqual(before - 1e-14);
        expect(p).toBeLessThanOrEqual(1);
        before = p;
      }
      expect(before).toBe(1);
      expect(noncentralTUpperTail(3, df, -1e9)).toBe(0);
      expect(noncentralTUpperTail(-3, df, 1e9)).toBe(1);
    }
    expect(noncentralFUpperTail(3.5, 3, 9, 1e5)).toBeLessThanOrEqual(1);
  });

  it('arguments out of bounds throw', () => {
    expect(() => noncentralTUpperTail(Number.NaN, 3, 1)).toThrow('NaN');
    expect(() => noncentralTUpperTail(1, 0, 1)).toThrow('got 0');
    expect(() => noncentralTUpperTail(1, 3, Number.POSITIVE_INFINITY)).toThrow('Infinity');
    expect(() => noncentralFUpperTail(1, 2, 3, -1)).toThrow('-1');
  });
});

describe('power (R 4.2.2; fixtures/power-tables)', () => {
  it('a pair in complete blocks: every row to its 10 decimals', () => {
    for (const row of table('power-rcbd-pairwise')) {
      const question = {
        treatments: row.t!,
        cvPercent: row.cv_pct!,
        differencePercent: row.delta_pct!,
        alpha: row.alpha!,
      };
      expect(Math.abs(powerInBlocks(question, row.r!).power - row.power!)).toBeLessThan(1e-10);
    }
  });

  it('overall F: every row within 2e-9 (the table is 1e-9 off, see SOURCE.md)', () => {
    for (const { t, r, delta_pct: delta, cv_pct: cv, alpha, power } of table('power-rcbd-f-min')) {
      const [df1, df2] = [t! - 1, (t! - 1) * (r! - 1)];
      const got = noncentralFUpperTail(
        fUpperQuantile(alpha!, df1, df2),
        df1,
        df2,
        (r! * (delta! / cv!) ** 2) / 2,
      );
      expect(Math.abs(got - power!)).toBeLessThan(2e-9);
    }
  });

  it('detectable differences: every row to its 10 decimals', () => {
    for (const { t, r, alpha, power, mdd_in_sigma: want } of table('mdd-rcbd-pairwise')) {
      const got = Math.sqrt(2 / r!) * detectableInStandardErrors((t! - 1) * (r! - 1), alpha!, power!);
      expectRelative(got, want!, 2e-10, `${t} treatments, ${r} blocks`);
    }
  });

  it('replicates needed: every row', () => {
    for (const row of table('replicates-needed-rcbd-pairwise')) {
      const got = accepted(
        replicatesNeeded({
          treatments: row.t!,
          cvPercent: row.cv_pct!,
          differencePercent: row.delta_pct!,
          power: row.power!,
          alpha: row.alpha!,
        }),
      );
      expect(got.replicates, JSON.stringify(row)).toBe(row.reps);
      expect(got.power).toBeGreaterThanOrEqual(row.power!);
      expect(got.detectableDifferencePercent).toBeLessThanOrEqual(row.delta_pct! * (1 + 1e-12));
    }
  });

  it("R's power.t.test and power.anova.test (values in power-r-examples.csv)", () => {
    const printed = Object.fromEntries(
      fixtureTable('power-tables/power-r-examples.csv').map((row) => [row.call ?? '', row]),
    );
    expect(Object.keys(printed).length).toBeGreaterThan(5);
    // power.t.test counts one direction alone unless strict: the other is below 1e-5 here
    expectRelative(powerTwoSidedT(1 / Math.sqrt(2 / 20), 38, 0.05), 0.868952801692, 1e-5);
    expectRelative(powerTwoSidedT(0.5 / Math.sqrt(2 / 64), 126, 0.05), 0.801458623368, 1e-5);
    expectRelative(powerTwoSidedT(10 / (6 / Math.sqrt(6)), 5, 0.05), 0.898771623846, 1e-9);
    const f = fUpperQuantile(0.05, 3, 16);
    expectRelative(noncentralFUpperTail(f, 3, 16, (3 * 5 * 1) / 3), 0.353559423815, 1e-8);
  });

  it("the trade's figures: two treatments, CV 5 %, power .8, alpha .05 (practice of this project, computed)", () => {
    const needed = (differencePercent: number) =>
      accepted(replicatesNeeded({ treatments: 2, cvPercent: 5, differencePercent, power: 0.8, alpha: 0.05 }))
        .replicates;
    expect([5, 10, 15, 20].map(needed)).toEqual([18, 7, 5, 4]);
  });
});

describe('the detectable difference and its interval', () => {
  it('scales with the standard error; the interval is that of the error variance', () => {
    const got = accepted(detectableDifference(2, 3, 0.05, 0.8));
    expectRelative(powerTwoSidedT(got.difference / 2, 3, 0.05), 0.8, 1e-10);
    // chi-squared on 3 df: .025 and .975 quantiles 0.2158 and 9.3484 (printed tables; from memory)
    expect((got.lower / got.difference).toFixed(4)).toBe(Math.sqrt(3 / 9.3484).toFixed(4));
    expect((got.upper / got.difference).toFixed(3)).toBe(Math.sqrt(3 / 0.2158).toFixed(3));
  });

  it('power without a difference is alpha, and does not depend on the sign', () => {
    expectRelative(powerTwoSidedT(0, 6, 0.1), 0.1, 1e-11);
    expect(powerTwoSidedT(-1.5, 6, 0.1)).toBe(powerTwoSidedT(1.5, 6, 0.1));
  });

  it('refuses no error df and alpha out of range; throws on senseless questions', () => {
    expect(refusalOf(detectableDifference(2, 0, 0.05, 0.8)).code).toBe('noErrorDf');
    expect(refusalOf(detectableDifference(2, 3, 0.6, 0.8)).code).toBe('alphaOutOfRange');
    expect(() => detectableDifference(0, 3, 0.05, 0.8)).toThrow('got 0');
    expect(() => detectableDifference(1, 3, 0.05, 0.04)).toThrow('more than alpha');
    const question = { treatments: 4, cvPercent: 5, differencePercent: 5, power: 0.8, alpha: 0.05 };
    expect(refusalOf(replicatesNeeded({ ...question, treatments: 1 })).code).toBe('tooFewTreatments');
    expect(refusalOf(replicatesNeeded({ ...question, alpha: 0 })).code).toBe('alphaOutOfRange');
    expect(() => replicatesNeeded({ ...question, cvPercent: 0 })).toThrow('got 0');
    expect(() => replicatesNeeded({ ...question, power: 1 })).toThrow('got 1');
  });

  it('says when even the most replicates are not enough', () => {
    const got = accepted(
      replicatesNeeded({ treatments: 3, cvPercent: 20, differencePercent: 1, power: 0.8, alpha: 0.05 }, 50),
    );
    expect(got.replicates).toBeNull();
    expect(got.errorDf).toBe(98);
    expect(got.power).toBeLessThan(0.8);
  });
});
