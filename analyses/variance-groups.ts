import { compensatedMean } from './compensated-sum.ts';
import { type Refusal, refuse } from './refusal.ts';

/** Why these groups cannot have their variances compared, or null: fewer than two, fewer than two values, not finite. */
export function unfitVarianceGroups(groups: readonly (readonly number[])[]): Refusal | null {
  if (groups.length < 2) return refuse('tooFewTreatments', { levels: groups.length });
  const small = groups.findIndex((group) => group.length < 2);
  if (small >= 0) return refuse('tooFewPlots', { group: small, plots: groups[small]!.length, needed: 2 });
  const broken = groups.findIndex((group) => group.some((value) => !Number.isFinite(value)));
  return broken < 0 ? null : refuse('nonFiniteValue', { group: broken });
}

/** Deviations of the values from their mean. */
export function aboutMean(values: readonly number[]): number[] {
  const mean = compensatedMean(values);
  return values.map((value) => value - mean);
}
