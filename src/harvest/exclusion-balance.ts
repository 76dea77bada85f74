import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { balanceOfShares, WORTH_SAYING_GAP, WORTH_SAYING_P } from './set-aside-balance.ts';
import type { StripValue } from './strip-values.ts';

/**
 * Did areas for single strips take more from one treatment than from another? Each strip's share of points that they
 * cut, out of those kept and those cut, analysed by the trial's own design; said at p below .10 or where the means of
 * two treatments lie 5 percentage points apart (common practice, no source).
 */
export function exclusionBalance(trial: TrialDocument, values: readonly StripValue[]): Problem[] {
  const shares = values.map(({ pointsKept, pointsSetAside }) => {
    if (pointsKept === null) return null;
    const cut = pointsSetAside.cutFromStrip ?? 0;
    return pointsKept + cut === 0 ? null : cut / (pointsKept + cut);
  });
  if (shares.every((share) => share === null || share === 0)) return [];
  const { gap: found, p } = balanceOfShares(trial, shares);
  const gap = found ?? 0;
  if (gap < WORTH_SAYING_GAP && (p === null || p >= WORTH_SAYING_P)) return [];
  return [problem('warning', 'exclusionsByTreatment', {}, { p, gapPercent: 100 * gap })];
}

/** Weights are of whole strips, whatever was drawn. */
export function exclusionsOverWeights({ harvest }: TrialDocument): Problem[] {
  const count = harvest.exclusions?.length ?? 0;
  return count === 0 ? [] : [problem('warning', 'exclusionsNotInWeights', {}, { count })];
}
