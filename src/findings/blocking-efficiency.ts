import { efficiencyOfBlocking } from '../../analyses/efficiency-of-blocking.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { blockingMeaning } from '../words/outlook-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { ReportResponse } from './report-model.ts';

/** What the blocks brought; null unless the model is blocks and treatments and every block holds each treatment once. */
export function blockingOf({ design, fitted }: AnalysedResponse): ReportResponse['blocking'] {
  const { fit } = fitted;
  const isOfBoth = fit.terms.length === 2 && fit.terms.some(({ id }) => id === 'block');
  if (design.design !== 'randomizedCompleteBlocks' || !isOfBoth) return null;
  const found = efficiencyOfBlocking(fit, 'block');
  if (isRefusal(found)) return null;
  const { relativeEfficiency, adjustedForDf } = found;
  return { relativeEfficiency, adjustedForDf, meaning: blockingMeaning(adjustedForDf) };
}
