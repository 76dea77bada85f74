import type { TrialDocument } from './trial-document.ts';

/**
 * The trial with places across the field for strips that are known by their passes alone: passes are numbered across
 * the field, so the strips' order is that of their mean pass. Where any place is given, or a strip has no pass, the
 * places stay as they are.
 */
export function withPlacesByPass(trial: TrialDocument): TrialDocument {
  const isByPass = trial.strips.every(({ place, passes }) => place === null && (passes?.length ?? 0) > 0);
  if (!isByPass || trial.strips.length === 0) return trial;
  const middles = trial.strips.map(({ passes }) => meanOf(passes ?? []));
  const order = [...new Set(middles)].sort((a, b) => a - b);
  return {
    ...trial,
    strips: trial.strips.map((strip, index) => ({ ...strip, place: order.indexOf(middles[index]!) + 1 })),
  };
}

function meanOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0) / numbers.length;
}
