import { newTrial } from '../trial/starting-settings.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/**
 * The trial with all that cannot touch its strip values left blank, so that an edit of prices, names or the way of
 * deciding asks for the very same harvest.
 */
export function harvestedPart(trial: TrialDocument): TrialDocument {
  const blank = newTrial('');
  const { name, season, notes, randomised, economics, inference, stamp } = blank;
  const treatments = trial.treatments.map(({ factorLevels: _, ...one }) => ({
    ...one,
    costPerHa: null,
    applicationCostPerHa: null,
  }));
  // What strips count as in the analysis beyond treatment and block.
  const strips = trial.strips.map(({ row: _row, column: _column, covariate: _covariate, ...strip }) => strip);
  return { ...trial, name, season, notes, randomised, economics, inference, stamp, treatments, strips };
}
