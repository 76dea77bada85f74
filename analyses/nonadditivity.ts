import { type AddedCovariate, addedCovariate } from './added-covariate.ts';
import { compensatedMean } from './compensated-sum.ts';
import { largestMagnitude } from './largest-magnitude.ts';
import type { LinearModelFit } from './linear-model.ts';
import type { Refusal } from './refusal.ts';

/**
 * Tukey's one degree of freedom for nonadditivity: do treatments differ by more where the block is better?
 *
 * Definition: the square of the additive fit's values, about their mean, as one more covariate. In a complete two-way table
 * this is Tukey's own sum of squares (blocks' effects times treatments' effects); it serves incomplete ones too. A small p
 * speaks for working on logarithms or square roots.
 *
 * @param fit - of an additive model, for instance blocks and treatments
 * @returns the test, or a refusal as in {@link addedCovariate} (with two treatments in two blocks no df remains)
 * Source: J. W. Tukey (1949) Biometrics 5:232-242.
 */
export function nonadditivity(fit: LinearModelFit): AddedCovariate | Refusal {
  const mean = compensatedMean(fit.fittedDeviations);
  const about = fit.fittedDeviations.map((deviation) => deviation - mean);
  const scale = largestMagnitude(about);
  return addedCovariate(
    fit,
    about.map((deviation) => (scale === 0 ? 0 : (deviation / scale) ** 2)),
  );
}
