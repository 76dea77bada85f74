import { alphaRefusal } from './alpha.ts';
import { tUpperQuantile } from './distributions/t.ts';
import { type JudgedDifference, judgedRow, type PairwiseDifference } from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

export interface FisherLsd {
  readonly alpha: number;
  readonly df: number;
  /** Least significant difference; null where the standard error differs from pair to pair. */
  readonly lsd: number | null;
  /** p is that of the pair alone: nothing is adjusted. */
  readonly comparisons: readonly JudgedDifference[];
}

/** Standard errors that differ by no more than rounding are one. */
const SAME_SHARE = 1e-9;

/**
 * Fisher's least significant difference: each pair judged by its own t at alpha, with the pooled error.
 *
 * The error rate is that of one comparison; with many pairs the chance of at least one false difference grows
 * (see `false-real-chance.ts`). Whether a significant F is asked for first is left to the caller.
 *
 * @param differences - at least one, all on the same df
 * @param alpha - two-sided, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * Source: R. A. Fisher (1935) The Design of Experiments, section 24.
 */
export function fisherLsd(differences: readonly PairwiseDifference[], alpha: number): FisherLsd | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const df = commonDf(differences);
  const critical = tUpperQuantile(alpha / 2, df);
  const common = commonStandardError(differences);
  return {
    alpha,
    df,
    lsd: common === null ? null : critical * common,
    comparisons: differences.map((row) => withInterval(row, row.pUnadjusted, critical)),
  };
}

/** The row with its p and the interval difference +- critical * standard error. */
export function withInterval(row: PairwiseDifference, p: number, critical: number): JudgedDifference {
  const half = critical * row.standardError;
  return judgedRow(row, p, row.difference - half, row.difference + half);
}

/** The standard error of a difference where all pairs share it, else null. */
export function commonStandardError(differences: readonly PairwiseDifference[]): number | null {
  const first = differences[0]?.standardError;
  if (first === undefined) return null;
  const same = differences.every((row) => Math.abs(row.standardError - first) <= SAME_SHARE * first);
  return same ? first : null;
}

/** The error df that all rows share. Throws when there is no row, or they differ. */
export function commonDf(differences: readonly PairwiseDifference[]): number {
  const df = differences[0]?.df;
  if (df === undefined) throw new RangeError('comparisons: expected at least one pair, got none');
  if (differences.some((row) => row.df !== df))
    throw new RangeError('comparisons: expected one df for all pairs');
  return df;
}
