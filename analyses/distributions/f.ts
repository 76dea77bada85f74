import betainc from '@stdlib/math-base-special-betainc';
import betaincinv from '@stdlib/math-base-special-betaincinv';
import { increasingRoot } from './increasing-root.ts';

/** Within these the terms of the finite sum stay far below the largest double. */
const MOST_DF1_SUMMED = 100;
const MOST_DF2_SUMMED = 1e6;
/** The library's inverse shares the loss described below; it is refined on our own tail, starting from this near. */
const NEAR = 1e-7;

/**
 * P(F > f) for Fisher's F: the p value of a line of an analysis of variance.
 *
 * Taken from the incomplete beta function on whichever side is small, or for whole even df1 from a finite sum of positive
 * terms (the library's function loses up to 3 digits there when df2 is odd), so that tails keep their digits: relative
 * error below 1e-12 down to p = 1e-12 (Abramowitz & Stegun 26.6.2 and 26.6.4).
 *
 * @param f - at least 0, Infinity included
 * @param df1 - numerator degrees of freedom, > 0 and finite
 * @param df2 - denominator degrees of freedom, > 0 and finite
 * @throws RangeError when f is negative or NaN, or a df is not positive and finite
 */
export function fUpperTail(f: number, df1: number, df2: number): number {
  if (!(f >= 0)) throw new RangeError(`fUpperTail: f must be at least 0, got ${f}`);
  requireDf('fUpperTail', df1, df2);
  if (f === Number.POSITIVE_INFINITY) return 0;
  const z = df1 * f;
  if (df1 % 2 === 0 && df1 <= MOST_DF1_SUMMED && df2 <= MOST_DF2_SUMMED) return evenUpperTail(z, df1, df2);
  return z > df2
    ? betainc(df2 / (df2 + z), df2 / 2, df1 / 2)
    : betainc(z / (df2 + z), df1 / 2, df2 / 2, true, true);
}

/** x^(df2/2) times the sum over j < df1/2 of (df2/2)_j / j! (1 - x)^j, with x = df2 / (df2 + z). */
function evenUpperTail(z: number, df1: number, df2: number): number {
  const rest = z / (df2 + z);
  let term = 1;
  let sum = 1;
  for (let j = 1; j < df1 / 2; j++) {
    term *= ((df2 / 2 + j - 1) / j) * rest;
    sum += term;
  }
  return Math.exp((-df2 / 2) * Math.log1p(z / df2)) * sum;
}

/**
 * The f that Fisher's F exceeds with probability p.
 *
 * @param p - upper tail, 0 < p < 1
 * @param df1 - numerator degrees of freedom, > 0 and finite
 * @param df2 - denominator degrees of freedom, > 0 and finite
 * @throws RangeError when p lies outside (0, 1) or a df is not positive and finite
 */
export function fUpperQuantile(p: number, df1: number, df2: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`fUpperQuantile: p must lie in (0, 1), got ${p}`);
  requireDf('fUpperQuantile', df1, df2);
  const share = betaincinv(p, df2 / 2, df1 / 2);
  const otherShare = betaincinv(p, df1 / 2, df2 / 2, true);
  const near =
    share < 0.5 ? (df2 * (1 - share)) / (df1 * share) : (df2 * otherShare) / (df1 * (1 - otherShare));
  const logExcess = (f: number) => Math.log(p) - Math.log(fUpperTail(f, df1, df2));
  return increasingRoot(logExcess, near * (1 - NEAR), near * (1 + NEAR));
}

function requireDf(name: string, df1: number, df2: number): void {
  if (!(df1 > 0 && df1 < Infinity && df2 > 0 && df2 < Infinity))
    throw new RangeError(`${name}: both df must be positive and finite, got ${df1} and ${df2}`);
}
