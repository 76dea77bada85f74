import type { FactorTerm } from './model-terms.ts';
import { allPairs, type PairwiseDifference } from './pairwise-differences.ts';
import type { Response } from './response.ts';
import type { SplitPlot, SplitPlotDifference } from './split-plot.ts';
import { cellPairs, differencesOfMeans, type TwoFactorMeans, twoFactorMeans } from './two-factor-means.ts';

export interface SplitPlotComparisons {
  /** First is the main factor, second the sub factor. */
  readonly means: TwoFactorMeans;
  /** Rows of one kind share their standard error and df, so that any procedure for pairs takes them. */
  readonly differences: {
    /** Levels of the main factor, over all sub levels. */
    readonly main: readonly PairwiseDifference[];
    /** Levels of the sub factor, over all main levels. */
    readonly sub: readonly PairwiseDifference[];
    /** Cells at one main level: sub levels compared. */
    readonly subWithinMain: readonly PairwiseDifference[];
    /** Cells at one sub level: main levels compared. */
    readonly mainAtSub: readonly PairwiseDifference[];
    /** Cells that differ in both: same standard error and df as `mainAtSub`. */
    readonly bothDiffer: readonly PairwiseDifference[];
  };
}

/**
 * Means of a split plot and all pairs of them, each pair with the error and df that its kind of difference has.
 *
 * Where both errors enter (`mainAtSub`, `bothDiffer`) t is judged on Satterthwaite's df, so p and interval agree with each
 * other; the analysis' own `criticalValue` there is the weighted t that field books print, which differs a little.
 *
 * @param response, mainFactor, subFactor - those of the analysis
 * @param analysis - of {@link splitPlot}
 * @throws RangeError when a factor does not match the plots
 * Source: W. G. Cochran & G. M. Cox (1957) Experimental Designs, section 7.16; Satterthwaite (1946).
 */
export function splitPlotComparisons(
  response: Response,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
  analysis: SplitPlot,
): SplitPlotComparisons {
  const means = twoFactorMeans(response, mainFactor, subFactor);
  const pairs = cellPairs(mainFactor.levelCount, subFactor.levelCount);
  const { main, sub, subWithinMain, mainAtSub } = analysis.differences;
  const errors = ({ standardError, df }: SplitPlotDifference) => ({ variance: standardError ** 2, df });
  return {
    means,
    differences: {
      main: differencesOfMeans(means.first, allPairs(mainFactor.levelCount), errors(main)),
      sub: differencesOfMeans(means.second, allPairs(subFactor.levelCount), errors(sub)),
      subWithinMain: differencesOfMeans(means.cells, pairs.sameFirst, errors(subWithinMain)),
      mainAtSub: differencesOfMeans(means.cells, pairs.sameSecond, errors(mainAtSub)),
      bothDiffer: differencesOfMeans(means.cells, pairs.bothDiffer, errors(mainAtSub)),
    },
  };
}
