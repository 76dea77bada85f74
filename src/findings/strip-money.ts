import { breakEven } from '../trial/break-even.ts';
import { moneyPerLandUnit, yieldUnit } from '../trial/display-units.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { missingMoneyWords } from '../words/money-sentences.ts';
import type { MoneyTerms } from './response-plots.ts';

/** What treatment a must bring over treatment b (indices into the document), in the units that the trial reads in. */
export function moneyTerms(trial: TrialDocument, a: number, b: number): MoneyTerms {
  const money = moneyPerLandUnit(trial);
  const [treatmentA, treatmentB] = [trial.treatments[a], trial.treatments[b]];
  if (treatmentA === undefined || treatmentB === undefined)
    throw new RangeError(`treatment: expected 0 to ${trial.treatments.length - 1}, got ${a} and ${b}`);
  const needed = breakEven(trial, treatmentA, treatmentB);
  if (!needed.known)
    return { known: false, missing: missingMoneyWords(needed.missing), moneyUnit: money.label };
  const unit = yieldUnit(trial);
  return {
    known: true,
    breakEven: needed.kgPerHa * unit.perSi,
    extraCost: needed.extraCostPerHa * money.perSi,
    pricePerUnit: ((trial.economics.pricePerKg ?? 0) / unit.perSi) * money.perSi,
    moneyUnit: money.label,
  };
}
