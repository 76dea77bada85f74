import { type Refusal, refuse } from './refusal.ts';
import type { RandomNumbers } from './seeded-generator.ts';

export interface SignFlipTest {
  /** Pairs. */
  readonly n: number;
  /** Sign patterns whose mean lies at least as far from zero as the one seen, itself included. */
  readonly asExtreme: number;
  /** Patterns looked at: all 2^n when `exact`. */
  readonly patterns: number;
  readonly exact: boolean;
  /** Two-sided. */
  readonly p: number;
  /** The smallest p that so many pairs can give. */
  readonly smallestP: number;
}

const MOST_EXACT = 20;
/** Sums that differ by less than this share of the largest possible one are ties. */
const TIE = 1e-12;

/**
 * The randomization test of pairs: had the two treatments changed places in some blocks, how often would the mean
 * difference be as far from zero? Rests on the randomisation alone, on no distribution.
 *
 * All 2^n patterns up to 20 pairs; beyond that random ones, counting the pattern seen (p = (asExtreme) / (patterns)).
 *
 * @param differences - one a complete pair, in blocks where the two were randomised
 * @param random - a seeded generator, used beyond 20 pairs only
 * @param draws - patterns drawn beyond 20 pairs
 * @returns the result, or a refusal: `nonFiniteValue` {pair}, `noCompletePair` {completePairs, needed} below two
 * Source: R. A. Fisher (1935) The Design of Experiments, ch. 3.
 */
export function signFlipTest(
  differences: readonly number[],
  random: RandomNumbers,
  draws = 99_999,
): SignFlipTest | Refusal {
  const n = differences.length;
  const pair = differences.findIndex((difference) => !Number.isFinite(difference));
  if (pair >= 0) return refuse('nonFiniteValue', { pair });
  if (n < 2) return refuse('noCompletePair', { completePairs: n, needed: 2 });
  const size = differences.reduce((sum, difference) => sum + Math.abs(difference), 0);
  const seen = Math.abs(differences.reduce((sum, difference) => sum + difference, 0)) - TIE * size;
  const exact = n <= MOST_EXACT;
  const patterns = exact ? 2 ** n : draws + 1;
  const asExtreme = exact ? countAll(differences, seen) : 1 + countDrawn(differences, seen, random, draws);
  return {
    n,
    asExtreme,
    patterns,
    exact,
    p: asExtreme / patterns,
    smallestP: exact ? 2 / patterns : 1 / patterns,
  };
}

function countAll(differences: readonly number[], seen: number): number {
  let count = 0;
  for (let pattern = 0; pattern < 2 ** differences.length; pattern++) {
    let sum = 0;
    for (let i = 0; i < differences.length; i++)
      sum += (pattern >> i) & 1 ? -differences[i]! : differences[i]!;
    if (Math.abs(sum) >= seen) count++;
  }
  return count;
}

function countDrawn(
  differences: readonly number[],
  seen: number,
  random: RandomNumbers,
  draws: number,
): number {
  let count = 0;
  for (let draw = 0; draw < draws; draw++) {
    const sum = differences.reduce(
      (total, difference) => total + (random() < 0.5 ? -difference : difference),
      0,
    );
    if (Math.abs(sum) >= seen) count++;
  }
  return count;
}
