import type { TrialDocument } from '../trial/trial-document.ts';
import type { AppliedGround, AppliedRate } from './applied-strips.ts';

/** A mean rate farther from the plan than this is worth saying, unless the user chose (common practice, no source). */
const RATE_LIMIT = 0.1;
/** A rate this many limits or less from another treatment's plan is that treatment's. */
const NEAR_LIMITS = 2;
/** Where a log and the plan differ by more than this factor on every strip, they count different things. */
const OTHER_KIND = 3;

export function rateLimit({ harvest }: Pick<TrialDocument, 'harvest'>): number {
  const percent = harvest.rateTolerancePercent ?? null;
  return percent === null ? RATE_LIMIT : percent / 100;
}

type MeanRate = Pick<AppliedRate, 'mean' | 'unit'>;

/** Rate that was put out over the planned one, less 1; null where either is not known, or their units differ. */
export function rateOffPlan(trial: TrialDocument, treatment: number, rate: MeanRate | null): number | null {
  const planned = trial.treatments[treatment]?.planned;
  if (!planned || planned.rate === null || planned.rate === 0) return null;
  return rate === null || rate.unit !== planned.unit ? null : rate.mean / planned.rate - 1;
}

/**
 * Where treatments differ by the rate of one product: the treatment (index) whose plan the rate is nearest to, by
 * their ratio, where that is another than its own and near, and its own is missed by more than the limit. null: its own.
 */
export function treatmentByRate(
  trial: TrialDocument,
  treatment: number,
  rate: AppliedRate | null,
  ground: readonly AppliedGround[],
): number | null {
  const own = rateOffPlan(trial, treatment, rate);
  const limit = rateLimit(trial);
  if (own === null || Math.abs(own) <= limit) return null;
  const sharing = new Set(
    ground.flatMap(({ treatments }) => (treatments.includes(treatment) ? treatments : [])),
  );
  const distance = (t: number) => {
    const off = rateOffPlan(trial, t, rate);
    return off === null || off <= -1 ? Number.POSITIVE_INFINITY : Math.abs(Math.log1p(off));
  };
  const nearest = [...sharing]
    .sort((a, b) => a - b)
    .reduce((best, t) => (distance(t) < distance(best) ? t : best), treatment);
  return nearest === treatment || distance(nearest) > NEAR_LIMITS * limit ? null : nearest;
}

/**
 * By how much rates miss a treatment's plan, as a factor, where every strip misses it by far and to one side: then the log
 * counts the spray liquid and the plan the product, or one of them is in another unit. null: they can be compared.
 */
export function factorOfAnotherKind(
  trial: TrialDocument,
  treatment: number,
  rates: readonly (MeanRate | null)[],
): number | null {
  const factors = rates.flatMap((rate) => {
    const off = rateOffPlan(trial, treatment, rate);
    return off === null ? [] : [1 + off];
  });
  const isFar =
    factors.every((factor) => factor > OTHER_KIND) || factors.every((factor) => factor < 1 / OTHER_KIND);
  if (factors.length === 0 || !isFar) return null;
  return factors.reduce((sum, factor) => sum + factor, 0) / factors.length;
}
