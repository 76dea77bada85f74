import { newTrial } from '../trial/starting-settings.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/**
 * The trial with all that cannot touch its strip values left blank, so that an edit of prices, names or the way of
 * deciding asks for the very same harvest. The design stays whole: what screens took, and the ratio of monitor to scale,
 * are tested by it on the way.
 */
export function harvestedPart(trial: TrialDocument): TrialDocument {
  const blank = newTrial('');
  const { name, season, notes, randomised, economics, stamp } = blank;
  const { square, factors } = trial.inference;
  const inference = {
    ...blank.inference,
    ...(square ? { square } : {}),
    ...(factors ? { factors } : {}),
  };
  const treatments = trial.treatments.map(({ factorLevels, ...one }) => ({
    ...one,
    ...(factors && factorLevels ? { factorLevels } : {}),
    costPerHa: null,
    applicationCostPerHa: null,
  }));
  const strips = trial.strips.map(({ row, column, covariate: _covariate, ...strip }) => ({
    ...strip,
    ...(square ? { row: row ?? null, column: column ?? null } : {}),
  }));
  return { ...trial, name, season, notes, randomised, economics, inference, stamp, treatments, strips };
}
