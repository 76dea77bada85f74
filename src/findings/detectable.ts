import { detectableDifference } from '../../analyses/detectable-difference.ts';
import type { PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { ReportResponse } from './report-model.ts';

/** The usual chance of finding a difference that is asked of a trial (common practice). */
const POWER = 0.8;

/**
 * The true difference that a trial like this one would find in four of five seasons, each pair judged alone at alpha,
 * for the least precise of the comparisons that matter. Its interval is what the error's own uncertainty gives.
 */
export function detectableOf(
  differences: readonly PairwiseDifference[],
  alpha: number,
): ReportResponse['detectable'] {
  const least = differences.reduce<PairwiseDifference | null>(
    (worst, row) => (worst === null || row.standardError > worst.standardError ? row : worst),
    null,
  );
  if (least === null) return null;
  const found = detectableDifference(least.standardError, least.df, alpha, POWER);
  if (isRefusal(found)) return null;
  const { difference, lower, upper, power } = found;
  return { difference, lower, upper, power };
}
