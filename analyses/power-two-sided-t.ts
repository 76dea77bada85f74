import { noncentralTUpperTail } from './distributions/noncentral-t.ts';
import { tUpperQuantile } from './distributions/t.ts';

/**
 * The chance that a two-sided t test at alpha calls a true difference significant, in either direction.
 *
 * @param standardizedDifference - true difference over its standard error (true, not estimated); the sign does not matter
 * @param df - of the error, > 0
 * @param alpha - two-sided, 0 < alpha < 1
 * @returns a probability; alpha itself for no difference
 * @throws RangeError when df or alpha lies outside these bounds
 * Source: noncentral t, see `distributions/noncentral-t.ts`.
 * @example powerTwoSidedT(1 / Math.sqrt(2 / 20), 38, 0.05) // 0.868953 (two groups of 20, difference 1, sd 1)
 */
export function powerTwoSidedT(standardizedDifference: number, df: number, alpha: number): number {
  return powerBeyondCriticalT(standardizedDifference, df, tUpperQuantile(alpha / 2, df));
}

/** The same for any critical value of |t|, such as Tukey's or Dunnett's. */
export function powerBeyondCriticalT(
  standardizedDifference: number,
  df: number,
  criticalValue: number,
): number {
  const shift = Math.abs(standardizedDifference);
  // The wrong direction is the right one seen from the other end: P(T < -c) = P(-T > c), -T having the opposite shift.
  return noncentralTUpperTail(criticalValue, df, shift) + noncentralTUpperTail(criticalValue, df, -shift);
}
