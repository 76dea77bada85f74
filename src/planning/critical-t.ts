import { dunnettDistribution } from '../../analyses/distributions/dunnett-distribution.ts';
import { studentizedRangeUpperQuantile } from '../../analyses/distributions/studentized-range.ts';
import { tUpperQuantile } from '../../analyses/distributions/t.ts';

/** How comparisons will be guarded: what a plan's power and intervals hang on besides its size. */
export interface GuardedPlan {
  /** Whole, at least 2. */
  readonly treatments: number;
  /** `t`: each pair on its own, as LSD; `bonferroni`: alpha shared among `comparisons`. */
  readonly procedure: 't' | 'bonferroni' | 'tukey' | 'dunnett';
  /** That matter, at least 1. */
  readonly comparisons: number;
  /** Two-sided, 0 < alpha <= 0.5. */
  readonly alpha: number;
}

/**
 * What |difference| over its standard error must pass to be called real, every treatment equally often on strips.
 *
 * Tukey: studentized range over sqrt 2. Dunnett: largest of treatments - 1 differences from one check, correlation 1/2.
 *
 * @param errorDf - positive
 */
export function criticalT(
  { treatments, procedure, comparisons, alpha }: GuardedPlan,
  errorDf: number,
): number {
  switch (procedure) {
    case 't':
      return tUpperQuantile(alpha / 2, errorDf);
    case 'bonferroni':
      return tUpperQuantile(alpha / (2 * comparisons), errorDf);
    case 'tukey':
      return studentizedRangeUpperQuantile(alpha, treatments, errorDf) / Math.SQRT2;
    case 'dunnett':
      return dunnettDistribution(Array(treatments - 1).fill(Math.SQRT1_2), errorDf, 'two').upperQuantile(
        alpha,
      );
  }
}
