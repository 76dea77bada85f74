import { alphaRefusal } from './alpha.ts';
import { studentizedRange } from './distributions/studentized-range.ts';
import { friedman } from './friedman.ts';
import { midranks } from './midranks.ts';
import { allPairs, type LevelPair } from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

export interface FriedmanPair {
  readonly a: number;
  readonly b: number;
  /** Rank sum of a minus that of b. */
  readonly difference: number;
  /** Guarded for all pairs. */
  readonly p: number;
}

export interface FriedmanPairs {
  readonly alpha: number;
  readonly blocks: number;
  /** One a treatment. */
  readonly rankSums: readonly number[];
  /** Rank sums further apart than this differ at alpha. */
  readonly leastDifference: number;
  readonly pairs: readonly FriedmanPair[];
}

/**
 * After Friedman's test: which treatments differ, judged by their rank sums over blocks?
 *
 * Definition: Nemenyi's single-step comparison of all pairs (as Tukey's, so the chance of at least one false difference is
 * alpha, with no F or chi-squared to pass first), midranks, with the correction for ties. Conover's t on ranks, which some
 * books print, guards each pair alone and is not used. The studentized range holds for many blocks. In few the true chance
 * moves in steps: by counting, at alpha .05, .028 to .042 for three treatments in 3 to 6 blocks, .007 and .026 for four in 3
 * and 4; with two treatments it can exceed alpha (.070 in 8 blocks), where the signed rank or sign flips are exact.
 *
 * @param valueOfBlock - blocks x treatments, complete, as for {@link friedman}
 * @param alpha - of all pairs together, 0 < alpha <= 0.5
 * @returns the pairs, later minus earlier, or a refusal: `alphaOutOfRange` or those of {@link friedman}
 * Sources: P. Nemenyi (1963) Distribution-free Multiple Comparisons, thesis, Princeton; M. Hollander & D. A. Wolfe (1973)
 * Nonparametric Statistical Methods, section 7.3.
 */
export function friedmanPairs(
  valueOfBlock: readonly (readonly number[])[],
  alpha: number,
): FriedmanPairs | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const test = friedman(valueOfBlock);
  if ('refused' in test) return test;
  const { blocks, rankSums } = test;
  const treatments = rankSums.length;
  const middle = (treatments + 1) / 2;
  const within = valueOfBlock.flatMap(midranks).reduce((sum, rank) => sum + (rank - middle) ** 2, 0);
  // A rank's variance over the orders of its block; two ranks of a block lean against each other by 1 / (treatments - 1).
  const scale = Math.sqrt(within / (treatments - 1));
  const range = studentizedRange(treatments, Number.POSITIVE_INFINITY);
  return {
    alpha,
    blocks,
    rankSums,
    leastDifference: range.upperQuantile(alpha) * scale,
    pairs: allPairs(treatments).map(([a, b]: LevelPair) => {
      const difference = rankSums[a]! - rankSums[b]!;
      return { a, b, difference, p: range.upperTail(Math.abs(difference) / scale) };
    }),
  };
}
