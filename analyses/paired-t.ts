import { alphaRefusal } from './alpha.ts';
import { compensatedMean, compensatedSumOfSquares } from './compensated-sum.ts';
import { tTwoSidedP, tUpperQuantile } from './distributions/t.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';

/** Two treatments in one block; null where the strip is lost. Both as deviations from one origin, or both plain. */
export interface Pair {
  readonly a: number | null;
  readonly b: number | null;
}

export interface PairedT {
  readonly alpha: number;
  /** a - b, one a pair; null where one of the two is lost. */
  readonly differences: readonly (number | null)[];
  readonly completePairs: number;
  readonly meanDifference: number;
  /** Of the differences. */
  readonly standardDeviation: number;
  /** Of the mean difference. */
  readonly standardError: number;
  readonly df: number;
  readonly t: number;
  /** Two-sided. */
  readonly p: number;
  /** Interval at 1 - alpha. */
  readonly lower: number;
  readonly upper: number;
}

/**
 * Student's paired t: two treatments compared strip by strip within blocks, on their own differences alone.
 *
 * Incomplete pairs are left out and stay visible as null. With two treatments in complete blocks t^2 is the F of the
 * analysis of variance; with more treatments this ignores the pooled error, which has more df.
 *
 * @param pairs - one a block
 * @param alpha - two-sided, 0 < alpha <= 0.5
 * @returns the result, or a refusal: `alphaOutOfRange`; `nonFiniteValue` {pair}; `noCompletePair` {completePairs,
 * needed} with fewer than two complete pairs; `noErrorVariation` when all differences are equal but for rounding
 * Source: Student (1908) Biometrika 6:1-25.
 */
export function pairedT(pairs: readonly Pair[], alpha: number): PairedT | Refusal {
  const unfit = alphaRefusal(alpha) ?? nonFinite(pairs);
  if (unfit !== null) return unfit;
  const differences = pairs.map(({ a, b }) => (a === null || b === null ? null : a - b));
  const known = differences.filter((difference) => difference !== null);
  const n = known.length;
  if (n < 2) return refuse('noCompletePair', { completePairs: n, needed: 2 });
  const meanDifference = compensatedMean(known);
  const df = n - 1;
  const squares = compensatedSumOfSquares(known.map((difference) => difference - meanDifference));
  if (squares <= roundingSumOfSquares(pairs.flatMap(({ a, b }) => [a ?? 0, b ?? 0])))
    return refuse('noErrorVariation', { meanDifference, errorDf: df });
  const variance = squares / df;
  const standardError = Math.sqrt(variance / n);
  const half = tUpperQuantile(alpha / 2, df) * standardError;
  const t = meanDifference / standardError;
  return {
    alpha,
    differences,
    completePairs: n,
    meanDifference,
    standardDeviation: Math.sqrt(variance),
    standardError,
    df,
    t,
    p: tTwoSidedP(t, df),
    lower: meanDifference - half,
    upper: meanDifference + half,
  };
}

function nonFinite(pairs: readonly Pair[]): Refusal | null {
  const pair = pairs.findIndex(({ a, b }) => !Number.isFinite(a ?? 0) || !Number.isFinite(b ?? 0));
  return pair < 0 ? null : refuse('nonFiniteValue', { pair });
}
