import { ONE_FIELD_ONE_SEASON, sameSeveralTimes } from '../words/weakening-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { AssumptionCheck } from './assumption-checks.ts';
import { moreBlocksForMargin, replicatesForMargin } from './blocks-for-margin.ts';
import { answerOf, economicsRow, type JudgedComparison } from './comparison-answer.ts';
import { pairWeaknesses, responseWeaknesses } from './comparison-weaknesses.ts';
import { procedureReasons } from './decided-by.ts';
import type { Decided } from './deciding-procedure.ts';
import { blockWeakness, leaveOneBlockOut } from './leave-one-block-out.ts';
import { termsOfPair } from './ratio-money.ts';
import type { ReportAnswer, ReportResponse } from './report-model.ts';
import { chancesOf, flatteryOf } from './treatment-outlook.ts';
import { varianceWeaknesses } from './unequal-variances.ts';
import { whatWouldSettle } from './what-would-settle.ts';

type AnswersAndOutlook = Pick<
  ReportResponse,
  'answers' | 'economics' | 'leaveOneBlockOut' | 'chances' | 'flattery' | 'replicatesForMargin'
>;

/** An answer and a line on money for each comparison that matters; `decided` is null where nothing judges them. */
export function answersAndMoney(
  analysed: AnalysedResponse,
  judged: readonly JudgedComparison[],
  decided: Decided | null,
  checks: readonly AssumptionCheck[],
): AnswersAndOutlook {
  const { response, design, judging, surroundings, fitted } = analysed;
  const errorDf = fitted.fit.error.df;
  const weakens = responseWeaknesses(response, design, errorDf, decided?.procedure ?? null);
  const inDoubt = checks.flatMap((check) => check.weakens ?? []);
  const reasons = [...procedureReasons(decided, analysed), ONE_FIELD_ONE_SEASON];
  const termsOf = (one: JudgedComparison) => termsOfPair(one.pair, analysed);
  const replicates = replicatesForMargin(analysed, decided);
  const blocks = moreBlocksForMargin(analysed, replicates);
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
      weakens: [
        ...weakens,
        ...ofPair,
        ...inDoubt,
        ...varianceWeaknesses(one, analysed, checks),
        ...surroundings.weakens,
      ],
    });
    return { ...answer, wouldSettle: whatWouldSettle(answer, money, blocks) };
  });
  const leftOut = decided === null ? [] : leaveOneBlockOut(analysed, answers);
  const economics = judged.flatMap((one) => {
    const terms = termsOf(one);
    return terms === null ? [] : [economicsRow(one, terms)];
  });
  return {
    answers: answers.map((answer) => ({
      ...answer,
      weakens: [
        ...answer.weakens,
        ...samenessWeakness(answer, judged.length, judging.alpha),
        ...blockWeakness(answer, leftOut),
      ],
    })),
    economics,
    leaveOneBlockOut: [...leftOut],
    chances: decided === null ? null : chancesOf(analysed, judged, termsOf),
    flattery: flatteryOf(analysed),
    replicatesForMargin: replicates,
  };
}

const CALLED_SAME: readonly ReportAnswer['difference'][] = [
  'Same for practical purposes',
  'Real, but smaller than matters',
];

function samenessWeakness(
  { difference }: Pick<ReportAnswer, 'difference'>,
  comparisons: number,
  alpha: number,
): readonly string[] {
  return comparisons > 1 && CALLED_SAME.includes(difference) ? [sameSeveralTimes(comparisons, alpha)] : [];
}
