import type { TrialDocument } from '../trial/trial-document.ts';
import type { AppliedGround, AppliedRate } from './applied-strips.ts';

/** A mean rate farther from the plan than this is worth saying (common practice, no source). */
export const RATE_LIMIT = 0.1;

/** Rate that was put out over the planned one, less 1; null where either is not known, or their units differ. */
export function rateOffPlan(
  trial: TrialDocument,
  treatment: number,
  rate: Pick<AppliedRate, 'mean' | 'unit'> | null,
): number | null {
  const planned = trial.treatments[treatment]?.planned;
  if (!planned || planned.rate === null || planned.rate === 0) return null;
  return rate === null || rate.unit !== planned.unit ? null : rate.mean / planned.rate - 1;
}

/**
 * Where treatments differ by the rate of one product: the treatment (index) whose plan the rate is nearest to, by
 * their ratio, where that is another than its own and its own is missed by more than the limit. null: its own.
 */
export function treatmentByRate(
  trial: TrialDocument,
  treatment: number,
  rate: AppliedRate | null,
  ground: readonly AppliedGround[],
): number | null {
  const own = rateOffPlan(trial, treatment, rate);
  if (own === null || Math.abs(own) <= RATE_LIMIT) return null;
  const sharing = ground.find(({ treatments }) => treatments.includes(treatment))?.treatments ?? [];
  const distance = (t: number) => {
    const off = rateOffPlan(trial, t, rate);
    return off === null || off <= -1 ? Number.POSITIVE_INFINITY : Math.abs(Math.log1p(off));
  };
  const nearest = sharing.reduce((best, t) => (distance(t) < distance(best) ? t : best), treatment);
  return nearest === treatment ? null : nearest;
}
