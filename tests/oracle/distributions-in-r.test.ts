import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chiSquaredUpperQuantile, chiSquaredUpperTail } from '../../analyses/distributions/chi-squared.ts';
import { fUpperQuantile, fUpperTail } from '../../analyses/distributions/f.ts';
import { normalUpperQuantile, normalUpperTail } from '../../analyses/distributions/normal.ts';
import { studentizedRangeUpperTail } from '../../analyses/distributions/studentized-range.ts';
import { tTwoSidedP, tUpperQuantile } from '../../analyses/distributions/t.ts';
import { expectRelative } from '../analyses/fixture-data.ts';
import { type LiveR, rVector, startR } from './live-r.ts';

const SEED = 8108;
const COUNT = 400;
const sample = <T>(arbitrary: fc.Arbitrary<T>): T[] => fc.sample(arbitrary, { seed: SEED, numRuns: COUNT });

const df = fc.integer({ min: 1, max: 400 });
const x = fc.double({ min: 0.01, max: 12, noNaN: true });
const p = fc.double({ min: 1e-6, max: 0.6, noNaN: true });
const LEAST_TAIL = 1e-12;

describe('tails and quantiles against R at random arguments (seeded)', () => {
  let r: LiveR;
  beforeAll(async () => {
    r = await startR();
  });
  afterAll(() => r.close());

  it('t: 1e-12 relative down to 1e-12; quantiles 1e-11', async () => {
    const [xs, dfs, ps] = [sample(x), sample(fc.tuple(x, df)).map((pair) => pair[1]), sample(p)];
    const tails = await r.numbers(`2 * pt(${rVector(xs)}, ${rVector(dfs)}, lower.tail = FALSE)`);
    const quantiles = await r.numbers(`qt(${rVector(ps)}, ${rVector(dfs)}, lower.tail = FALSE)`);
    tails.forEach((tail, i) => {
      if (tail >= LEAST_TAIL)
        expectRelative(tTwoSidedP(xs[i]!, dfs[i]!), tail, 1e-12, `t ${xs[i]} on ${dfs[i]}`);
    });
    quantiles.forEach((quantile, i) => {
      expect(Math.abs(tUpperQuantile(ps[i]!, dfs[i]!) - quantile)).toBeLessThan(
        1e-11 * (1 + Math.abs(quantile)),
      );
    });
  });

  it('F: 1e-12 relative down to 1e-12; quantiles 1e-10', async () => {
    const draws = sample(fc.tuple(x, fc.integer({ min: 1, max: 40 }), df, p));
    const column = (i: 0 | 1 | 2 | 3) => rVector(draws.map((draw) => draw[i]));
    const tails = await r.numbers(`pf(${column(0)}, ${column(1)}, ${column(2)}, lower.tail = FALSE)`);
    const quantiles = await r.numbers(`qf(${column(3)}, ${column(1)}, ${column(2)}, lower.tail = FALSE)`);
    draws.forEach(([f, df1, df2, tail], i) => {
      if (tails[i]! >= LEAST_TAIL)
        expectRelative(fUpperTail(f, df1, df2), tails[i]!, 1e-12, `F ${f} ${df1} ${df2}`);
      expectRelative(fUpperQuantile(tail, df1, df2), quantiles[i]!, 1e-10, `qf ${tail} ${df1} ${df2}`);
    });
  });

  it('chi-squared and normal: 1e-12 relative down to 1e-12; quantiles 1e-10', async () => {
    const draws = sample(
      fc.tuple(fc.double({ min: 0.01, max: 90, noNaN: true }), fc.integer({ min: 1, max: 60 }), p),
    );
    const column = (i: 0 | 1 | 2) => rVector(draws.map((draw) => draw[i]));
    const tails = await r.numbers(`pchisq(${column(0)}, ${column(1)}, lower.tail = FALSE)`);
    const quantiles = await r.numbers(`qchisq(${column(2)}, ${column(1)}, lower.tail = FALSE)`);
    const normals = await r.numbers(`pnorm(${column(0)} / 13, lower.tail = FALSE)`);
    const zs = await r.numbers(`qnorm(${column(2)}, lower.tail = FALSE)`);
    draws.forEach(([value, freedom, tail], i) => {
      if (tails[i]! >= LEAST_TAIL) expectRelative(chiSquaredUpperTail(value, freedom), tails[i]!, 1e-12);
      expectRelative(chiSquaredUpperQuantile(tail, freedom), quantiles[i]!, 1e-10);
      expectRelative(normalUpperTail(value / 13), normals[i]!, 1e-12);
      expect(Math.abs(normalUpperQuantile(tail) - zs[i]!)).toBeLessThan(1e-11);
    });
  });

  it('studentized range above 5 df: 5e-8 (R is the less exact: 15 groups, 186 df is 2e-8 off a Gauss-Legendre integral)', async () => {
    const draws = fc.sample(
      fc.tuple(
        fc.double({ min: 0.3, max: 8, noNaN: true }),
        fc.integer({ min: 2, max: 15 }),
        fc.integer({ min: 6, max: 200 }),
      ),
      { seed: SEED, numRuns: 120 },
    );
    const column = (i: 0 | 1 | 2) => rVector(draws.map((draw) => draw[i]));
    const tails = await r.numbers(`ptukey(${column(0)}, ${column(1)}, ${column(2)}, lower.tail = FALSE)`);
    draws.forEach(([q, groups, freedom], i) => {
      const got = studentizedRangeUpperTail(q, groups, freedom);
      expect(Math.abs(got - tails[i]!), `q ${q}, ${groups} groups, ${freedom} df`).toBeLessThan(5e-8);
    });
  });
});
