import { largestMagnitude } from './largest-magnitude.ts';
import { midranks } from './midranks.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface SignedRank {
  /** Differences that are not zero. */
  readonly n: number;
  readonly zeros: number;
  /** Sum of the ranks of the positive differences. */
  readonly v: number;
  /** Two-sided, exact: over all 2^n signs. */
  readonly p: number;
  /** The smallest two-sided p that n differences can give: 2 / 2^n, at most 1. */
  readonly smallestP: number;
}

const MOST_DIFFERENCES = 500;
const TIE_SHARE = 1e-10;

/**
 * Wilcoxon's signed-rank test, exact also with ties: is the typical difference of pairs zero?
 *
 * Definition: zeros are left out before ranking (Wilcoxon's own way) and counted; tied sizes share midranks (differences of
 * decimals that agree to 1e-10 of the largest are ties: rounding breaks them otherwise); p is the share
 * of all sign patterns whose sum of positive ranks lies at least as far from its middle. No normal approximation.
 *
 * @param differences - up to 500
 * @returns the result, or a refusal: `nonFiniteValue` {pair}; `noErrorVariation` when all differences are zero or none is
 * there
 * @throws RangeError for more than 500 differences
 * Source: F. Wilcoxon (1945) Biometrics Bull. 1:80-83.
 */
export function signedRank(differences: readonly number[]): SignedRank | Refusal {
  if (differences.length > MOST_DIFFERENCES)
    throw new RangeError(
      `signedRank: expected at most ${MOST_DIFFERENCES} differences, got ${differences.length}`,
    );
  const pair = differences.findIndex((difference) => !Number.isFinite(difference));
  if (pair >= 0) return refuse('nonFiniteValue', { pair });
  const grain = TIE_SHARE * largestMagnitude(differences);
  const grains = differences.map((difference) => (grain === 0 ? 0 : Math.round(difference / grain)));
  const known = grains.filter((difference) => difference !== 0);
  const n = known.length;
  if (n === 0) return refuse('noErrorVariation', { differences: differences.length });
  // Midranks are halves: doubled they are whole and sums can be counted.
  const doubled = midranks(known.map(Math.abs)).map((rank) => 2 * rank);
  const doubledV = doubled.reduce((sum, rank, i) => sum + (known[i]! > 0 ? rank : 0), 0);
  const all = doubled.reduce((sum, rank) => sum + rank, 0);
  const farthest = Math.min(doubledV, all - doubledV);
  const share = shareOfPatterns(doubled, farthest);
  return {
    n,
    zeros: differences.length - n,
    v: doubledV / 2,
    p: Math.min(1, 2 * share),
    smallestP: Math.min(1, 2 ** (1 - n)),
  };
}

/** Share of the 2^n sign patterns whose sum of positive ranks is at most `limit`. */
function shareOfPatterns(ranks: readonly number[], limit: number): number {
  const shares = new Float64Array(limit + 1);
  shares[0] = 1;
  for (const rank of ranks)
    for (let sum = limit; sum >= 0; sum--)
      shares[sum] = (shares[sum]! + (sum >= rank ? shares[sum - rank]! : 0)) / 2;
  return shares.reduce((total, share) => total + share, 0);
}
