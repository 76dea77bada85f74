import type { AdjustedMeans } from './adjusted-means.ts';
import { alphaRefusal } from './alpha.ts';
import { tUpperQuantile } from './distributions/t.ts';
import type { JudgedDifference } from './pairwise-differences.ts';
import { type Refusal, refuse } from './refusal.ts';
import { backTransformed, type Transformation } from './transformation.ts';

/** On the scale people read; the interval is not symmetric about the mean. */
export interface BackTransformedMean {
  readonly level: number;
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Means of a transformed response, with their intervals at 1 - alpha, brought back to the scale people read.
 *
 * Definition: the mean and the ends of its interval are turned back as they are, without correction for bias; so for log this
 * is the geometric mean, and for all three an estimate of the median strip rather than the mean one.
 *
 * @param means - of the transformed response
 * @returns one row a level, or a refusal: `alphaOutOfRange`, `noErrorDf`, `noErrorVariation`
 * Source: M. S. Bartlett (1947) Biometrics 3:39-52.
 */
export function backTransformedMeans(
  means: AdjustedMeans,
  transformation: Transformation,
  alpha: number,
): readonly BackTransformedMean[] | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const { df, ms } = means.error;
  if (ms === null) return refuse('noErrorDf', { term: means.term });
  if (ms === 0) return refuse('noErrorVariation', { term: means.term, errorDf: df });
  const critical = tUpperQuantile(alpha / 2, df);
  return means.means.map(({ level, mean }) => {
    const half = critical * Math.sqrt(ms * means.unitCovariance[level]![level]!);
    const back = (value: number) => backTransformed(transformation, value);
    return { level, mean: back(mean), lower: back(mean - half), upper: back(mean + half) };
  });
}

/** Mean of a over mean of b (geometric means), 1 where they are alike; an end that is null stays open. */
export interface RatioOfMeans {
  readonly a: number;
  readonly b: number;
  readonly ratio: number;
  readonly lower: number | null;
  readonly upper: number | null;
  /** As judged on the log scale. */
  readonly p: number;
}

/**
 * Differences of logarithms as ratios: what remains of a comparison when the response was analysed by its logarithm. A
 * break-even is then a ratio too. Differences of roots and angles have no such reading and none is offered.
 *
 * @param differences - of natural logarithms, judged by any procedure
 */
export function ratiosFromLogs(differences: readonly JudgedDifference[]): readonly RatioOfMeans[] {
  const back = (value: number | null) => (value === null ? null : Math.exp(value));
  return differences.map(({ a, b, difference, lower, upper, p }) => ({
    a,
    b,
    ratio: Math.exp(difference),
    lower: back(lower),
    upper: back(upper),
    p,
  }));
}
