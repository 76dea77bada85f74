import { compensatedMean, compensatedSum, compensatedSumOfSquares } from './compensated-sum.ts';
import { fUpperTail } from './distributions/f.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';
import { aboutMean, unfitVarianceGroups } from './variance-groups.ts';

export interface BrownForsythe {
  readonly f: number;
  readonly df1: number;
  readonly df2: number;
  readonly p: number;
}

/**
 * Brown and Forsythe's test: do these groups have one variance? The analysis of variance of the distances of values from
 * their group's median (Levene's test with medians), sturdy where values are not normal.
 *
 * @param groups - at least two, each of at least two values
 * @returns the result, or a refusal: `tooFewTreatments` {levels}, `tooFewPlots` {group, plots, needed},
 * `nonFiniteValue` {group}, `noErrorVariation` when the distances do not vary within groups
 * Source: M. B. Brown & A. B. Forsythe (1974) J. Am. Stat. Assoc. 69:364-367.
 */
export function brownForsythe(groups: readonly (readonly number[])[]): BrownForsythe | Refusal {
  const unfit = unfitVarianceGroups(groups);
  if (unfit !== null) return unfit;
  const distances = groups.map((group) => {
    const middle = median(group);
    return group.map((value) => Math.abs(value - middle));
  });
  const overall = compensatedMean(distances.flat());
  const between = compensatedSum(distances.map((own) => own.length * (compensatedMean(own) - overall) ** 2));
  const within = compensatedSum(distances.map((own) => compensatedSumOfSquares(aboutMean(own))));
  const df1 = groups.length - 1;
  const df2 = distances.flat().length - groups.length;
  if (within <= roundingSumOfSquares(groups.flat())) return refuse('noErrorVariation', { errorDf: df2 });
  const f = between / df1 / (within / df2);
  return { f, df1, df2, p: fUpperTail(f, df1, df2) };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const upper = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[upper]! : (sorted[upper - 1]! + sorted[upper]!) / 2;
}
