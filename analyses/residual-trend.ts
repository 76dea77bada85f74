import { type AddedCovariate, addedCovariate } from './added-covariate.ts';
import type { LinearModelFit } from './linear-model.ts';
import type { Refusal } from './refusal.ts';

/**
 * Is a trend across the field left in the error? The plots' places as one more covariate, adjusted for all terms.
 *
 * @param fit - of {@link LinearModelFit}
 * @param placeOfPlot - place across the field, for instance metres from one edge or the strip's number in field order
 * @returns the test, or a refusal as in {@link addedCovariate}; `confoundedTerms` when treatments or blocks run along with
 * the places, as where each block holds its treatments in one and the same order
 */
export function residualTrend(fit: LinearModelFit, placeOfPlot: readonly number[]): AddedCovariate | Refusal {
  return addedCovariate(fit, placeOfPlot);
}
