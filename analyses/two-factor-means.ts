import { compensatedMean } from './compensated-sum.ts';
import { tTwoSidedP } from './distributions/t.ts';
import type { FactorTerm } from './model-terms.ts';
import type { LevelPair, PairwiseDifference } from './pairwise-differences.ts';
import type { Response } from './response.ts';
import type { CombinedErrors } from './satterthwaite.ts';

export interface PlainMean {
  readonly level: number;
  readonly mean: number;
  /** mean - origin of the response: differences are taken from these. */
  readonly deviation: number;
}

/** Means of two factors whose every combination stands equally often: adjusted and plain means are the same. */
export interface TwoFactorMeans {
  readonly first: readonly PlainMean[];
  readonly second: readonly PlainMean[];
  /** Level: level of first * levelCount of second + level of second. */
  readonly cells: readonly PlainMean[];
}

/** @throws RangeError when a factor does not match the plots */
export function twoFactorMeans(response: Response, first: FactorTerm, second: FactorTerm): TwoFactorMeans {
  const n = response.deviations.length;
  if (first.levelOfPlot.length !== n || second.levelOfPlot.length !== n)
    throw new RangeError(
      `twoFactorMeans: expected ${n} plots, got ${first.levelOfPlot.length} and ${second.levelOfPlot.length}`,
    );
  const cellOfPlot = first.levelOfPlot.map((level, i) => level * second.levelCount + second.levelOfPlot[i]!);
  return {
    first: meansOf(response, first.levelOfPlot, first.levelCount),
    second: meansOf(response, second.levelOfPlot, second.levelCount),
    cells: meansOf(response, cellOfPlot, first.levelCount * second.levelCount),
  };
}

function meansOf(response: Response, levelOfPlot: readonly number[], levels: number): PlainMean[] {
  return Array.from({ length: levels }, (_, level) => {
    const deviation = compensatedMean(response.deviations.filter((_, plot) => levelOfPlot[plot] === level));
    return { level, mean: response.origin + deviation, deviation };
  });
}

/** Pairs of cells, the later minus the earlier, by what the two have in common. */
export interface CellPairs {
  readonly sameFirst: readonly LevelPair[];
  readonly sameSecond: readonly LevelPair[];
  readonly bothDiffer: readonly LevelPair[];
}

export function cellPairs(levelsOfFirst: number, levelsOfSecond: number): CellPairs {
  const cells = levelsOfFirst * levelsOfSecond;
  const pairs = Array.from({ length: cells }, (_, a) =>
    Array.from({ length: a }, (_, b): LevelPair => [a, b]),
  ).flat();
  const first = (cell: number) => Math.floor(cell / levelsOfSecond);
  const second = (cell: number) => cell % levelsOfSecond;
  return {
    sameFirst: pairs.filter(([a, b]) => first(a) === first(b)),
    sameSecond: pairs.filter(([a, b]) => second(a) === second(b)),
    bothDiffer: pairs.filter(([a, b]) => first(a) !== first(b) && second(a) !== second(b)),
  };
}

/** Differences that all have one variance and df. */
export function differencesOfMeans(
  means: readonly PlainMean[],
  pairs: readonly LevelPair[],
  { variance, df }: CombinedErrors,
): PairwiseDifference[] {
  const standardError = Math.sqrt(variance);
  return pairs.map(([a, b]) => {
    const difference = means[a]!.deviation - means[b]!.deviation;
    const t = difference / standardError;
    return { a, b, difference, standardError, df, t, pUnadjusted: tTwoSidedP(t, df) };
  });
}
