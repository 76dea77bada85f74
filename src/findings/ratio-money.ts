import type { LevelPair } from '../../analyses/pairwise-differences.ts';
import { NO_RATIO_NEEDED } from '../words/money-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { MoneyTerms } from './response-plots.ts';

type Analysed = Pick<AnalysedResponse, 'response' | 'design' | 'surroundings' | 'fitted'>;

/**
 * What a must bring over b, on the scale of the analysis. On logarithms a difference is a ratio: a pays when it yields
 * so many times what b yields as covers its cost, with b's own mean (brought back) as what it yields.
 */
export function termsOfPair(
  [a, b]: LevelPair,
  { response, design, surroundings, fitted }: Analysed,
): MoneyTerms | null {
  const terms = surroundings.money?.(design.treatments[a] ?? 0, design.treatments[b] ?? 0) ?? null;
  if (terms === null || !terms.known || response.model?.scale !== 'log') return terms;
  const mean = Math.exp(fitted.means.means[b]?.mean ?? 0);
  const neededRatio = 1 + terms.breakEven / mean;
  if (neededRatio <= 0) return { known: false, missing: [NO_RATIO_NEEDED], moneyUnit: terms.moneyUnit };
  return { ...terms, breakEven: Math.log(neededRatio), ratioOf: { mean, neededRatio } };
}
