import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import type { LevelPair } from '../../analyses/pairwise-differences.ts';
import {
  approximateLevel,
  bestIsFlattered,
  fewErrorDf,
  INCOMPLETE_BLOCKS,
  onSingleStrip,
  stripsLost,
  unequalSetAside,
} from '../words/weakening-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { ResponseDesign } from './response-design.ts';
import { PLAIN_MODEL, type ResponsePlots } from './response-plots.ts';

const FEW_ERROR_DF = 6;
/** Treatments against one check whose true correlations Dunnett's procedure takes. */
const MOST_EXACT_COMPARISONS = 12;
/** A gap between treatments in the share set aside that is worth a warning: 5 percentage points (common practice). */
const SET_ASIDE_GAP = 0.05;

/** What weakens every comparison of this response. */
export function responseWeaknesses(
  response: ResponsePlots,
  design: ResponseDesign,
  errorDf: number,
  procedure: string | null,
): readonly string[] {
  const incomplete = design.design === 'incompleteBlocks';
  return [
    ...(errorDf > 0 && errorDf < FEW_ERROR_DF ? [fewErrorDf(errorDf)] : []),
    ...(design.plotsWithoutValue > 0 ? [stripsLost(design.plotsWithoutValue, response.plots.length)] : []),
    ...(incomplete ? [INCOMPLETE_BLOCKS] : []),
    ...(isApproximate(procedure, hasAdjustedMeans(response, design), design.treatments.length)
      ? [approximateLevel(procedure)]
      : []),
  ];
}

/** Whether means are other than the plain ones: not in a complete square, whose rows and columns are balanced. */
function hasAdjustedMeans({ model }: ResponsePlots, design: ResponseDesign): boolean {
  if (design.design === 'incompleteBlocks') return true;
  const { square, covariate, machine, trend } = model ?? PLAIN_MODEL;
  return (
    covariate !== null ||
    machine !== null ||
    trend !== null ||
    (square !== null && design.plotsWithoutValue > 0)
  );
}

/** On adjusted means Tukey is no longer exact, nor is Dunnett beyond what the multivariate t is reckoned for. */
function isApproximate(
  procedure: string | null,
  adjusted: boolean,
  treatments: number,
): procedure is 'tukey' | 'dunnett' {
  if (!adjusted) return false;
  return procedure === 'tukey' || (procedure === 'dunnett' && treatments - 1 > MOST_EXACT_COMPARISONS);
}

/** What weakens this comparison alone. */
export function pairWeaknesses(
  pair: LevelPair,
  { response, design, fitted, surroundings, said }: AnalysedResponse,
): readonly string[] {
  const { means } = fitted;
  const nameOf = (level: number) => said[level] ?? '';
  const shareOf = (level: number) => surroundings.setAsideShares[design.treatments[level] ?? 0] ?? null;
  const [shareA, shareB] = [shareOf(pair[0]), shareOf(pair[1])];
  const unequal = shareA !== null && shareB !== null && Math.abs(shareA - shareB) >= SET_ASIDE_GAP;
  const best = bestLevel(means, response.better);
  const flattered = means.means.length > 2 && (pair[0] === best || pair[1] === best);
  return [
    ...(unequal ? [unequalSetAside(nameOf(pair[0]), shareA, nameOf(pair[1]), shareB)] : []),
    ...pair
      .filter((level) => means.error.df > 0 && means.means[level]?.n === 1)
      .map((level) => onSingleStrip(nameOf(level))),
    ...(flattered ? [bestIsFlattered(nameOf(best), means.means.length)] : []),
  ];
}

/** Level of the best mean. */
export function bestLevel(means: AdjustedMeans, better: 'higher' | 'lower'): number {
  const sign = better === 'higher' ? 1 : -1;
  const size = (level: number) => sign * (means.means[level]?.deviation ?? 0);
  return means.means.reduce((best, mean) => (size(mean.level) > size(best) ? mean.level : best), 0);
}
