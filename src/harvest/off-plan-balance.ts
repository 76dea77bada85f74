import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { OffPlan } from './excluded-ground.ts';
import { balanceOfShares, WORTH_SAYING_GAP, WORTH_SAYING_P } from './set-aside-balance.ts';
import type { StripValue } from './strip-values.ts';

/**
 * Did ground that did not get what was planned take more from one treatment than from another? Each strip's share of
 * points cut for it, analysed by the trial's own design. Strips of which no coverage is asked, as of an untreated
 * check, take no part: they cannot be skipped. Said at p below .10 or a gap of 5 percentage points (common practice,
 * no source).
 */
export function offPlanBalance(
  trial: TrialDocument,
  values: readonly StripValue[],
  offPlan: OffPlan | null,
): Problem[] {
  if (offPlan === null) return [];
  const shares = values.map(({ pointsKept, pointsSetAside }, index) => {
    if (pointsKept === null || !offPlan.isAsked[index]) return null;
    const cut = pointsSetAside.appliedOtherwise ?? 0;
    return pointsKept + cut === 0 ? null : cut / (pointsKept + cut);
  });
  if (shares.every((share) => share === null || share === 0)) return [];
  const { gap: found, p } = balanceOfShares(trial, shares);
  const gap = found ?? 0;
  if (gap < WORTH_SAYING_GAP && (p === null || p >= WORTH_SAYING_P)) return [];
  return [problem('warning', 'offPlanByTreatment', {}, { p, gapPercent: 100 * gap })];
}

/** Weights are of whole strips, whatever was put out where. */
export function offPlanOverWeights(offPlan: OffPlan | null): Problem[] {
  const count = offPlan?.stretches.filter((own) => own.length > 0).length ?? 0;
  return count === 0 ? [] : [problem('warning', 'offPlanNotInWeights', {}, { count })];
}
