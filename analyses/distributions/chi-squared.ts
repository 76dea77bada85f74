import gammainc from '@stdlib/math-base-special-gammainc';
import chiSquaredQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import { increasingRoot } from './increasing-root.ts';

/**
 * P(X > x) for chi-squared, from the upper incomplete gamma function directly (Abramowitz & Stegun 26.4.19).
 *
 * @param x - at least 0, Infinity included
 * @param df - degrees of freedom, > 0 and finite
 * @throws RangeError when x is negative or NaN, or df is not positive and finite
 */
export function chiSquaredUpperTail(x: number, df: number): number {
  if (!(x >= 0)) throw new RangeError(`chiSquaredUpperTail: x must be at least 0, got ${x}`);
  requireDf('chiSquaredUpperTail', df);
  return x === Number.POSITIVE_INFINITY ? 0 : gammainc(x / 2, df / 2, true, true);
}

/**
 * The x that chi-squared exceeds with probability p.
 *
 * @param p - upper tail, 0 < p < 1
 * @param df - degrees of freedom, > 0 and finite
 * @throws RangeError when p lies outside (0, 1) or df is not positive and finite
 */
export function chiSquaredUpperQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`chiSquaredUpperQuantile: p must lie in (0, 1), got ${p}`);
  requireDf('chiSquaredUpperQuantile', df);
  if (p > 0.25) return chiSquaredQuantile(1 - p, df);
  return increasingRoot((x) => Math.log(p) - Math.log(chiSquaredUpperTail(x, df)), df, df + 4);
}

function requireDf(name: string, df: number): void {
  if (!(df > 0 && df < Infinity)) throw new RangeError(`${name}: df must be positive and finite, got ${df}`);
}
