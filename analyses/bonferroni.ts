import { alphaRefusal } from './alpha.ts';
import { tUpperQuantile } from './distributions/t.ts';
import { commonDf, withInterval } from './fisher-lsd.ts';
import type { JudgedDifference, PairwiseDifference } from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

export interface Bonferroni {
  readonly alpha: number;
  readonly df: number;
  /** Simultaneous intervals: all hold together with probability at least 1 - alpha. */
  readonly comparisons: readonly JudgedDifference[];
}

/**
 * Bonferroni's inequality: m comparisons each judged at alpha / m, so the chance of at least one false difference is
 * at most alpha, whatever their dependence. Adjusted p = min(1, m p).
 *
 * @param differences - the m comparisons decided upon beforehand; at least one, all on the same df
 * @param alpha - of the family, two-sided, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * Source: O. J. Dunn (1961) J. Am. Stat. Assoc. 56:52-64.
 */
export function bonferroni(differences: readonly PairwiseDifference[], alpha: number): Bonferroni | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const df = commonDf(differences);
  const m = differences.length;
  const critical = tUpperQuantile(alpha / m / 2, df);
  const comparisons = differences.map((row) => withInterval(row, Math.min(1, m * row.pUnadjusted), critical));
  return { alpha, df, comparisons };
}
