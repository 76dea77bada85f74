import betainc from '@stdlib/math-base-special-betainc';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { recentlyUsed } from '../recently-used.ts';
import { normalUpperQuantile, normalUpperTail } from './normal.ts';

/**
 * P(|T| > |t|) for Student's t: the two-sided p value.
 *
 * Taken from the incomplete beta function on whichever side is small, so that tails keep their digits
 * (relative error below 1e-12 down to p = 1e-12; Abramowitz & Stegun 26.7.1).
 *
 * @param t - any number, infinities included
 * @param df - degrees of freedom, > 0, need not be whole; Infinity gives the normal
 * @throws RangeError when t is NaN or df is not positive
 */
export function tTwoSidedP(t: number, df: number): number {
  requireArguments('tTwoSidedP', t, df);
  if (df === Number.POSITIVE_INFINITY) return 2 * normalUpperTail(Math.abs(t));
  if (!Number.isFinite(t)) return 0;
  const ratio = (t / Math.sqrt(df)) ** 2;
  return ratio > 1
    ? betainc(1 / (1 + ratio), df / 2, 0.5)
    : betainc(ratio / (1 + ratio), 0.5, df / 2, true, true);
}

/** P(T > t) for Student's t; arguments and errors as in {@link tTwoSidedP}. */
export function tUpperTail(t: number, df: number): number {
  const half = tTwoSidedP(t, df) / 2;
  return t >= 0 ? half : 0.5 + (0.5 - half);
}

/**
 * The t that Student's t exceeds with probability p; `tUpperQuantile(alpha / 2, df)` is the two-sided critical value.
 *
 * @param p - upper tail, 0 < p < 1
 * @param df - degrees of freedom, > 0; Infinity gives the normal
 * @throws RangeError when p lies outside (0, 1) or df is not positive
 */
export function tUpperQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`tUpperQuantile: p must lie in (0, 1), got ${p}`);
  requireArguments('tUpperQuantile', 0, df);
  if (df === Number.POSITIVE_INFINITY) return normalUpperQuantile(p);
  return kept(`${p} ${df}`, () => -tQuantile(p, df));
}

/** The same few critical values serve one comparison after another. */
const kept = recentlyUsed<number>(64);

function requireArguments(name: string, t: number, df: number): void {
  if (Number.isNaN(t)) throw new RangeError(`${name}: t must be a number, got NaN`);
  if (!(df > 0)) throw new RangeError(`${name}: df must be positive, got ${df}`);
}
