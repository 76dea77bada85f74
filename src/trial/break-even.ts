import type { Treatment, TrialDocument } from './trial-document.ts';

/**
 * The difference in yield at which treatment `a` earns exactly what it costs more than `b`:
 * ((cost a + applying a) - (cost b + applying b)) / price, in kg/ha. Negative where `a` is the cheaper one.
 *
 * Says what is missing instead of taking an unknown cost for nothing. A check whose costs are left blank costs
 * nothing: leaving a product out is what a check is.
 */
export type BreakEven =
  | { readonly known: true; readonly kgPerHa: number; readonly extraCostPerHa: number }
  | { readonly known: false; readonly missing: readonly string[] };

export function breakEven(trial: TrialDocument, a: Treatment, b: Treatment): BreakEven {
  const missing: string[] = [];
  const price = trial.economics.pricePerKg;
  if (price === null) missing.push('pricePerKg');
  const costA = totalCostPerHa(a);
  const costB = totalCostPerHa(b);
  if (costA === null) missing.push(`costPerHa of ${a.name}`);
  if (costB === null) missing.push(`costPerHa of ${b.name}`);
  if (price === null || costA === null || costB === null) return { known: false, missing };
  const extraCostPerHa = costA - costB;
  return { known: true, kgPerHa: extraCostPerHa / price, extraCostPerHa };
}

/** null where the cost is not known. Applying counts as nothing when only the product's cost was given. */
export function totalCostPerHa(treatment: Treatment): number | null {
  if (treatment.costPerHa === null && treatment.applicationCostPerHa === null) {
    return treatment.isCheck ? 0 : null;
  }
  return (treatment.costPerHa ?? 0) + (treatment.applicationCostPerHa ?? 0);
}
