import type { AdjustedMeans } from './adjusted-means.ts';
import { alphaRefusal } from './alpha.ts';
import { compensatedDot, compensatedSum } from './compensated-sum.ts';
import { tTwoSidedP, tUpperQuantile } from './distributions/t.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface Contrast {
  readonly alpha: number;
  /** Sum of weight times mean, in units of the response times those of the weights. */
  readonly estimate: number;
  readonly standardError: number;
  readonly df: number;
  readonly t: number;
  /** Two-sided, of this contrast alone. */
  readonly p: number;
  readonly lower: number;
  readonly upper: number;
  /** Its single-df sum of squares: error ms * t^2. */
  readonly ss: number;
}

/** Weights sum to zero but for rounding. */
const SUM_TOLERANCE = 1e-9;

/**
 * A planned comparison among several means: does this weighted sum, its weights adding to zero, differ from zero?
 *
 * @param means - of a factor or an interaction's cells
 * @param weights - one a level, summing to zero, not all zero; for instance [1, -1/2, -1/2] for the first against the rest
 * @param alpha - two-sided, 0 < alpha <= 0.5
 * @returns the contrast, or a refusal: `alphaOutOfRange`, `noErrorDf`, `noErrorVariation`
 * @throws RangeError when weights do not match the levels, are all zero or do not sum to zero
 * Source: R. A. Fisher (1935) The Design of Experiments, ch. 4 (single degrees of freedom).
 */
export function contrast(
  means: AdjustedMeans,
  weights: readonly number[],
  alpha: number,
): Contrast | Refusal {
  requireWeights(weights, means.means.length);
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const { df, ms } = means.error;
  if (ms === null) return refuse('noErrorDf', { term: means.term });
  if (ms === 0) return refuse('noErrorVariation', { term: means.term, errorDf: df });
  const estimate = compensatedDot(
    weights,
    means.means.map((mean) => mean.deviation),
  );
  const unitVariance = compensatedDot(
    weights,
    means.unitCovariance.map((row) => compensatedDot(weights, row)),
  );
  const standardError = Math.sqrt(ms * unitVariance);
  const t = estimate / standardError;
  const half = tUpperQuantile(alpha / 2, df) * standardError;
  return {
    alpha,
    estimate,
    standardError,
    df,
    t,
    p: tTwoSidedP(t, df),
    lower: estimate - half,
    upper: estimate + half,
    ss: ms * t ** 2,
  };
}

function requireWeights(weights: readonly number[], levels: number): void {
  if (weights.length !== levels)
    throw new RangeError(`contrast: expected ${levels} weights, got ${weights.length}`);
  const size = compensatedSum(weights.map(Math.abs));
  const sum = compensatedSum(weights);
  if (!(size > 0 && Math.abs(sum) <= SUM_TOLERANCE * size))
    throw new RangeError(`contrast: expected weights that sum to zero, not all zero, got sum ${sum}`);
}
