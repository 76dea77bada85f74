import { ONE_FIELD_ONE_SEASON } from '../words/weakening-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { AssumptionCheck } from './assumption-checks.ts';
import { type BlocksForMargin, blocksNeededForMargin } from './blocks-for-margin.ts';
import { answerOf, economicsRow, type JudgedComparison } from './comparison-answer.ts';
import { pairWeaknesses, responseWeaknesses } from './comparison-weaknesses.ts';
import { guardsTheirNumber, procedureReasons } from './decided-by.ts';
import type { Decided } from './deciding-procedure.ts';
import type { ReportResponse } from './report-model.ts';
import { whatWouldSettle } from './what-would-settle.ts';

/** An answer and a line on money for each comparison that matters; `decided` is null where nothing judges them. */
export function answersAndMoney(
  analysed: AnalysedResponse,
  judged: readonly JudgedComparison[],
  decided: Decided | null,
  checks: readonly AssumptionCheck[],
): Pick<ReportResponse, 'answers' | 'economics'> {
  const { response, design, judging, surroundings, fitted } = analysed;
  const errorDf = fitted.fit.error.df;
  const weakens = responseWeaknesses(response, design, errorDf, decided?.procedure ?? null);
  const inDoubt = checks.flatMap((check) => check.weakens ?? []);
  const reasons = [...procedureReasons(decided, analysed), ONE_FIELD_ONE_SEASON];
  const termsOf = (one: JudgedComparison) =>
    surroundings.money?.(design.treatments[one.pair[0]] ?? 0, design.treatments[one.pair[1]] ?? 0) ?? null;
  const blocks = blocksForMargin(analysed, decided);
  const answers = judged.map((one) => {
    const money = termsOf(one);
    const ofPair = pairWeaknesses(one.pair, analysed);
    const answer = answerOf(one, {
      response: response.name,
      unit: response.unit,
      alpha: judging.alpha,
      grandMean: fitted.fit.grandMean,
      decidedBy: decided?.procedure ?? 'none',
      money,
      whyNoMoney: surroundings.whyNoMoney,
      reasons,
      weakens: [...weakens, ...ofPair, ...inDoubt, ...surroundings.weakens],
    });
    return { ...answer, wouldSettle: whatWouldSettle(answer, money, blocks) };
  });
  const economics = judged.flatMap((one) => {
    const terms = termsOf(one);
    return terms === null ? [] : [economicsRow(one, terms)];
  });
  return { answers, economics };
}

function blocksForMargin(
  { response, design, judging, fitted }: AnalysedResponse,
  decided: Decided | null,
): BlocksForMargin | null {
  if (decided === null || design.design === 'completelyRandomized') return null;
  const share = guardsTheirNumber(decided) ? decided.real.length : 1;
  return blocksNeededForMargin({
    blocks: design.blocks.length,
    treatments: design.treatments.length,
    cvPercent: fitted.fit.cvPercent,
    grandMean: fitted.fit.grandMean,
    margin: judging.margin,
    unit: response.unit,
    alpha: judging.alpha / share,
  });
}
