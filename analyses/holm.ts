import { alphaRefusal } from './alpha.ts';
import { commonDf } from './fisher-lsd.ts';
import { type JudgedDifference, judgedRow, type PairwiseDifference } from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

export interface Holm {
  readonly alpha: number;
  readonly df: number;
  /** lower and upper are null throughout, see {@link holm}. */
  readonly comparisons: readonly JudgedDifference[];
}

/**
 * Holm's step-down procedure: of m comparisons the smallest p is taken m times, the next m - 1 times, and so on; no
 * adjusted p is smaller than the one before it. The chance of at least one false difference is at most alpha, and never
 * fewer differences are found than by Bonferroni.
 *
 * Has no simultaneous two-sided intervals that agree with its decisions and say more than its signs, so lower and upper
 * are null: where intervals are wanted take Bonferroni's.
 *
 * @param differences - the comparisons decided upon beforehand; at least one, all on the same df
 * @param alpha - of the family, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * Source: S. Holm (1979) Scand. J. Stat. 6:65-70.
 */
export function holm(differences: readonly PairwiseDifference[], alpha: number): Holm | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const df = commonDf(differences);
  const adjusted = holmAdjusted(differences.map((row) => row.pUnadjusted));
  const comparisons = differences.map((row, i) => judgedRow(row, adjusted[i]!, null, null));
  return { alpha, df, comparisons };
}

/** Holm's adjusted p values, in the order given. */
export function holmAdjusted(ps: readonly number[]): number[] {
  const ascending = ps.map((_, i) => i).sort((i, j) => ps[i]! - ps[j]!);
  const adjusted = new Array<number>(ps.length).fill(1);
  let least = 0;
  ascending.forEach((i, rank) => {
    least = Math.max(least, Math.min(1, (ps.length - rank) * ps[i]!));
    adjusted[i] = least;
  });
  return adjusted;
}
