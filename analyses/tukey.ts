import { alphaRefusal } from './alpha.ts';
import { studentizedRange } from './distributions/studentized-range.ts';
import { commonDf, commonStandardError, withInterval } from './fisher-lsd.ts';
import type { JudgedDifference, PairwiseDifference } from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

export interface Tukey {
  readonly alpha: number;
  readonly df: number;
  /** Number of means compared. */
  readonly groups: number;
  /** Honestly significant difference; null where the standard error differs from pair to pair. */
  readonly hsd: number | null;
  /** Simultaneous intervals over all pairs. */
  readonly comparisons: readonly JudgedDifference[];
}

/**
 * Tukey's procedure for all pairs of means: |t| sqrt(2) against the studentized range of all `groups` means.
 *
 * Exact for equal replication in an orthogonal trial: the chance of at least one false difference is alpha. With
 * unequal replication each pair takes its own standard error (Kramer), and the chance is at most alpha (Hayter); for
 * adjusted means in incomplete blocks the same form is used, where it is known to be conservative in practice only.
 *
 * @param differences - any of the pairs, all on the same df
 * @param groups - number of means in the family, also those in no pair given; at least 2
 * @param alpha - 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * Sources: C. Y. Kramer (1956) Biometrics 12:307-310; A. J. Hayter (1984) Ann. Stat. 12:61-75.
 */
export function tukey(
  differences: readonly PairwiseDifference[],
  groups: number,
  alpha: number,
): Tukey | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const df = commonDf(differences);
  const range = studentizedRange(groups, df);
  const critical = range.upperQuantile(alpha) / Math.SQRT2;
  const common = commonStandardError(differences);
  return {
    alpha,
    df,
    groups,
    hsd: common === null ? null : critical * common,
    comparisons: differences.map((row) =>
      withInterval(row, range.upperTail(Math.abs(row.t) * Math.SQRT2), critical),
    ),
  };
}
