import { alphaRefusal } from './alpha.ts';
import { tUpperQuantile, tUpperTail } from './distributions/t.ts';
import type { Refusal } from './refusal.ts';

export interface Equivalence {
  readonly margin: number;
  readonly alpha: number;
  /** The interval at 1 - 2 alpha. */
  readonly lower: number;
  readonly upper: number;
  /** Of "the difference is at most -margin". */
  readonly pLower: number;
  /** Of "the difference is at least margin". */
  readonly pUpper: number;
  /** The larger of the two. */
  readonly p: number;
  /** The interval lies strictly inside plus or minus the margin. */
  readonly equivalent: boolean;
}

/** What the method needs of a difference; a row of `pairwiseDifferences` fits. */
export interface EstimatedDifference {
  readonly difference: number;
  readonly standardError: number;
  readonly df: number;
}

/**
 * Two one-sided t tests: is the difference smaller than a margin, in either direction?
 *
 * Equivalence is shown when both tests reject at alpha, which is when the interval at 1 - 2 alpha lies inside
 * (-margin, margin). The margin must have been fixed before the data were seen.
 *
 * @param estimate - standard error > 0, df > 0
 * @param margin - > 0, in units of the response
 * @param alpha - of each test, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * @throws RangeError when the margin or the standard error is not positive and finite
 * Source: D. J. Schuirmann (1987) J. Pharmacokinet. Biopharm. 15:657-680.
 */
export function twoOneSidedTests(
  estimate: EstimatedDifference,
  margin: number,
  alpha: number,
): Equivalence | Refusal {
  const { difference, standardError, df } = estimate;
  if (!(margin > 0 && margin < Infinity))
    throw new RangeError(`margin: expected a positive number, got ${margin}`);
  if (!(standardError > 0))
    throw new RangeError(`standard error: expected a positive number, got ${standardError}`);
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const half = tUpperQuantile(alpha, df) * standardError;
  const [lower, upper] = [difference - half, difference + half];
  const pLower = tUpperTail((difference + margin) / standardError, df);
  const pUpper = tUpperTail((margin - difference) / standardError, df);
  const equivalent = lower > -margin && upper < margin;
  return { margin, alpha, lower, upper, pLower, pUpper, p: Math.max(pLower, pUpper), equivalent };
}
