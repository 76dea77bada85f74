import { compensatedSum } from './compensated-sum.ts';

/** One mean square in a sum of several, and how often it enters. */
export interface WeightedError {
  readonly weight: number;
  readonly ms: number;
  readonly df: number;
}

export interface CombinedErrors {
  /** Sum of weight * ms. */
  readonly variance: number;
  /** Satterthwaite's: the df of the chi-squared with the same mean and variance. */
  readonly df: number;
}

/**
 * The df of a variance that is a weighted sum of independent mean squares, as of a difference that two errors enter.
 *
 * @param errors - at least one; weights >= 0, not all zero; a weight of zero leaves its error out
 * Source: F. E. Satterthwaite (1946) Biometrics Bull. 2:110-114.
 */
export function combinedErrors(errors: readonly WeightedError[]): CombinedErrors {
  const parts = errors.map(({ weight, ms }) => weight * ms);
  const variance = compensatedSum(parts);
  const spread = compensatedSum(parts.map((part, i) => part ** 2 / errors[i]!.df));
  return { variance, df: variance ** 2 / spread };
}
