import { compensatedSum, compensatedSumOfSquares } from './compensated-sum.ts';
import { chiSquaredUpperTail } from './distributions/chi-squared.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';
import { aboutMean, unfitVarianceGroups } from './variance-groups.ts';

export interface Bartlett {
  readonly chiSquared: number;
  readonly df: number;
  readonly p: number;
}

/**
 * Bartlett's test: do these groups have one variance? Assumes normal values and is easily misled where they are not;
 * `brownForsythe` is the sturdier one.
 *
 * @param groups - at least two, each of at least two values
 * @returns the result, or a refusal: `tooFewTreatments` {levels}, `tooFewPlots` {group, plots, needed},
 * `nonFiniteValue` {group}, `noErrorVariation` {group} when a group has no variance at all
 * Source: M. S. Bartlett (1937) Proc. R. Soc. A 160:268-282.
 */
export function bartlett(groups: readonly (readonly number[])[]): Bartlett | Refusal {
  const unfit = unfitVarianceGroups(groups);
  if (unfit !== null) return unfit;
  const dfs = groups.map((group) => group.length - 1);
  const squares = groups.map((group) => compensatedSumOfSquares(aboutMean(group)));
  const flat = squares.findIndex((own, i) => own <= roundingSumOfSquares(groups[i]!));
  if (flat >= 0) return refuse('noErrorVariation', { group: flat });
  const variances = squares.map((own, i) => own / dfs[i]!);
  const df = compensatedSum(dfs);
  const pooled = compensatedSum(variances.map((variance, i) => variance * dfs[i]!)) / df;
  const spread = compensatedSum(variances.map((variance, i) => -dfs[i]! * Math.log(variance / pooled)));
  const correction = (compensatedSum(dfs.map((own) => 1 / own)) - 1 / df) / (3 * (groups.length - 1));
  const chiSquared = Math.max(0, spread / (1 + correction));
  const between = groups.length - 1;
  return { chiSquared, df: between, p: chiSquaredUpperTail(chiSquared, between) };
}
