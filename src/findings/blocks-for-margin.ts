import { isRefusal } from '../../analyses/refusal.ts';
import { replicatesCompletelyRandomized } from '../../analyses/replicates-completely-randomized.ts';
import { replicatesNeeded } from '../../analyses/replicates-needed.ts';
import { significant, withUnit } from '../words/number-formats.ts';
import { replicatesMeaning } from '../words/outlook-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { guardsTheirNumber } from './decided-by.ts';
import type { Decided } from './deciding-procedure.ts';
import type { ReportResponse } from './report-model.ts';
import { isPlain } from './response-plots.ts';

export interface BlocksForMargin {
  readonly blocks: number;
  /** The difference that so many blocks would find, with its unit. */
  readonly difference: string;
}

const POWER = 0.8;

/**
 * How many replicates would find a difference as large as the margin, if strips vary as they did here. The margin is the
 * difference that was said to matter; the one observed would only repeat the verdict. Where several comparisons are
 * guarded, each is judged at its share of the level. null without a margin or a CV.
 */
export function replicatesForMargin(
  { response, design, judging, fitted }: AnalysedResponse,
  decided: Decided | null,
): ReportResponse['replicatesForMargin'] {
  const { cvPercent, grandMean } = fitted.fit;
  const { margin } = judging;
  if (!isPlain(response)) return null;
  if (decided === null || cvPercent === null || cvPercent === 0 || margin === null) return null;
  const alpha = judging.alpha / (guardsTheirNumber(decided) ? decided.real.length : 1);
  const question = {
    treatments: design.treatments.length,
    cvPercent,
    differencePercent: (100 * margin) / grandMean,
    power: POWER,
    alpha,
  };
  const blocked = design.blockOfPlot !== null;
  const needed = blocked ? replicatesNeeded(question) : replicatesCompletelyRandomized(question);
  if (isRefusal(needed)) return null;
  const { replicates, power } = needed;
  const said = withUnit(significant(margin, 3), response.unit);
  return { margin, replicates, power, alpha, meaning: replicatesMeaning(replicates, blocked, said, power) };
}

/** For the list of what would settle the answer; null where this trial already has that many blocks, or none. */
export function moreBlocksForMargin(
  { response, design, judging }: AnalysedResponse,
  needed: ReportResponse['replicatesForMargin'],
): BlocksForMargin | null {
  if (needed === null || needed.replicates === null || design.blockOfPlot === null) return null;
  if (needed.replicates <= design.blocks.length) return null;
  return { blocks: needed.replicates, difference: withUnit(significant(judging.margin, 3), response.unit) };
}
