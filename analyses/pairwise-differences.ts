import type { AdjustedMeans } from './adjusted-means.ts';
import { tTwoSidedP } from './distributions/t.ts';
import { type Refusal, refuse } from './refusal.ts';

/** Levels a and b of one factor; the difference is a - b. */
export type LevelPair = readonly [a: number, b: number];

export interface PairwiseDifference {
  readonly a: number;
  readonly b: number;
  /** Mean of a minus mean of b, in units of the response. */
  readonly difference: number;
  readonly standardError: number;
  /** Error df behind the standard error. */
  readonly df: number;
  readonly t: number;
  /** Two-sided, of this pair alone. */
  readonly pUnadjusted: number;
}

/** A difference judged by a procedure: p adjusted by it, and its interval. */
export interface JudgedDifference extends PairwiseDifference {
  readonly p: number;
  /** null where the procedure has no interval. */
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Differences of means, each with the standard error that the model's pooled error gives it.
 *
 * @param means - of {@link adjustedMeans}
 * @param pairs - at least one; `allPairs` and `pairsAgainst` make the usual ones
 * @returns one row a pair, or the refusal `noErrorDf`, or `noErrorVariation` when the error is exactly zero
 * @throws RangeError for a level that is not there, or a pair of one level with itself
 */
export function pairwiseDifferences(
  means: AdjustedMeans,
  pairs: readonly LevelPair[],
): readonly PairwiseDifference[] | Refusal {
  const { df, ms } = means.error;
  if (ms === null) return refuse('noErrorDf', { term: means.term });
  if (ms === 0) return refuse('noErrorVariation', { term: means.term, errorDf: df });
  return pairs.map(([a, b]) => {
    requirePair(a, b, means.means.length);
    const difference = means.means[a]!.deviation - means.means[b]!.deviation;
    const standardError = Math.sqrt(ms * unitVarianceOfDifference(means, a, b));
    const t = difference / standardError;
    return { a, b, difference, standardError, df, t, pUnadjusted: tTwoSidedP(t, df) };
  });
}

/** The row as a procedure judged it. Field by field, since a spread costs more than all the arithmetic of a row. */
export function judgedRow(
  { a, b, difference, standardError, df, t, pUnadjusted }: PairwiseDifference,
  p: number,
  lower: number | null,
  upper: number | null,
): JudgedDifference {
  return { a, b, difference, standardError, df, t, pUnadjusted, p, lower, upper };
}

/** Variance of mean a - mean b over the error mean square; 1/n_a + 1/n_b in an orthogonal trial. */
export function unitVarianceOfDifference(means: AdjustedMeans, a: number, b: number): number {
  const v = means.unitCovariance;
  return v[a]![a]! + v[b]![b]! - 2 * v[a]![b]!;
}

/** Every pair once: the later level minus the earlier. */
export function allPairs(levels: number): LevelPair[] {
  return Array.from({ length: levels }, (_, a) =>
    Array.from({ length: a }, (_, b): LevelPair => [a, b]),
  ).flat();
}

/** Every other level minus the check. */
export function pairsAgainst(check: number, levels: number): LevelPair[] {
  return Array.from({ length: levels }, (_, a): LevelPair => [a, check]).filter(([a]) => a !== check);
}

function requirePair(a: number, b: number, levels: number): void {
  const known = (level: number) => Number.isInteger(level) && level >= 0 && level < levels;
  if (a === b || !known(a) || !known(b))
    throw new RangeError(`pair: expected two different levels from 0 to ${levels - 1}, got ${a} and ${b}`);
}
