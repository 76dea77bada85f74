import { chanceOfBest } from '../../analyses/chance-of-best.ts';
import { tUpperTail } from '../../analyses/distributions/t.ts';
import { flatteryOfBest } from '../../analyses/flattery-of-best.ts';
import { quickGenerator } from '../../analyses/quick-generator.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { chancesMeaning, flatteryMeaning } from '../words/outlook-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { JudgedComparison } from './comparison-answer.ts';
import { bestLevel } from './comparison-weaknesses.ts';
import type { ReportResponse } from './report-model.ts';
import type { MoneyTerms } from './response-plots.ts';

/** Fixed once and for all, so that the same trial always draws the same chances. */
const POSTERIOR_SEED = 17_630_407;
/** A chance of one half is known within .008 (standard error). */
const DRAWS = 3999;

/** How likely each treatment is the best, and each of the comparisons better than nothing and than its cost. */
export function chancesOf(
  { fitted, names, response }: AnalysedResponse,
  judged: readonly JudgedComparison[],
  termsOf: (one: JudgedComparison) => MoneyTerms | null,
): ReportResponse['chances'] {
  const found = chanceOfBest(fitted.means, response.better, quickGenerator(POSTERIOR_SEED), DRAWS);
  if (isRefusal(found)) return null;
  const sign = response.better === 'higher' ? 1 : -1;
  return {
    best: names.map((treatment, level) => ({ treatment, chance: found.chances[level] ?? 0 })),
    comparisons: judged.flatMap((one) => {
      const { a, b, estimate, standardError, test } = one;
      if (standardError === null || test === null) return [];
      const terms = termsOf(one);
      const breakEven = terms?.known === true ? terms.breakEven : null;
      const above = (limit: number) => tUpperTail((limit - estimate) / standardError, test.df);
      const better = sign > 0 ? above(0) : tUpperTail(estimate / standardError, test.df);
      return [{ a, b, better, breakEven, beatsBreakEven: breakEven === null ? null : above(breakEven) }];
    }),
    standardError: found.standardError,
    draws: found.draws,
    seed: POSTERIOR_SEED,
    meaning: chancesMeaning(found.standardError, found.draws),
  };
}

/** How far chance alone lifts the best of the treatments that were tried; the check is none of them. */
export function flatteryOf({
  fitted,
  design,
  judging,
  names,
  response,
}: AnalysedResponse): ReportResponse['flattery'] {
  const { means, fit } = fitted;
  const check = judging.check === null ? -1 : design.treatments.indexOf(judging.check);
  const tried = means.means.filter(({ level }) => level !== check);
  const best = bestLevel(means, response.better);
  if (fit.error.ms === null || tried.length < 2 || best === check) return null;
  const perStrip = tried.reduce((sum, { n }) => sum + 1 / n, 0) / tried.length;
  const expected = flatteryOfBest(tried.length) * Math.sqrt(fit.error.ms * perStrip);
  const percentOfMean = fit.grandMean > 0 ? (100 * expected) / fit.grandMean : null;
  const name = names[best] ?? '';
  const meaning = flatteryMeaning(name, tried.length, expected, percentOfMean, response.unit);
  return { best: name, of: tried.length, expected, percentOfMean, meaning };
}
