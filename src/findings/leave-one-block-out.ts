import { pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { blockMakesAnswer } from '../words/outlook-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { chooseProcedure, decide } from './deciding-procedure.ts';
import { judgedComparisons } from './judged-comparisons.ts';
import { pairsThatMatter } from './pairs-that-matter.ts';
import { termsOfPair } from './ratio-money.ts';
import type { ReportAnswer, ReportResponse } from './report-model.ts';
import { isReportRefusal } from './report-refusal.ts';
import { designOf, type ResponseDesign } from './response-design.ts';
import { fitResponse } from './response-fit.ts';
import type { ResponsePlots } from './response-plots.ts';
import { differenceVerdict, moneyVerdict } from './verdicts.ts';

type LeftOut = ReportResponse['leaveOneBlockOut'][number];

/** Beyond, one block hardly matters, and the table would take long. */
const MOST_BLOCKS = 12;
const MOST_COMPARISONS = 66;

/** The verdicts once more without each block in turn: does one block make the answer? Empty without three blocks. */
export function leaveOneBlockOut(
  analysed: AnalysedResponse,
  answers: readonly ReportAnswer[],
): readonly LeftOut[] {
  if (answers.length > MOST_COMPARISONS) return [];
  return withoutEachBlock(
    analysed.response,
    analysed.design,
    (kept) => verdictsOf(analysed, kept),
    (comparisons) => comparisons.some((one) => changed(one, answers)),
  );
}

/** The same for any analysis: its verdicts on the strips that are kept, or text where they cannot be analysed. */
export function withoutEachBlock(
  response: ResponsePlots,
  { blocks }: ResponseDesign,
  verdictsOn: (kept: ResponsePlots) => LeftOut['comparisons'] | string,
  changes: (comparisons: LeftOut['comparisons']) => boolean,
): LeftOut[] {
  const names = response.blocks;
  if (names === null || blocks.length < 3 || blocks.length > MOST_BLOCKS) return [];
  return blocks.map((block) => {
    const left = names[block] ?? '';
    const kept = { ...response, plots: response.plots.filter((plot) => plot.block !== block) };
    const comparisons = verdictsOn(kept);
    if (typeof comparisons === 'string')
      return { block: left, refusal: comparisons, comparisons: [], changes: false };
    return { block: left, refusal: null, comparisons, changes: changes(comparisons) };
  });
}

function changed(one: LeftOut['comparisons'][number], answers: readonly ReportAnswer[]): boolean {
  const full = answers.find(({ a, b }) => a === one.a && b === one.b);
  return full !== undefined && (full.difference !== one.difference || full.money !== one.money);
}

/** Verdicts of the same comparisons on fewer strips; text where they cannot be analysed. */
function verdictsOf(analysed: AnalysedResponse, response: ResponsePlots): LeftOut['comparisons'] | string {
  const { judging, surroundings } = analysed;
  const design = designOf(response);
  const fitted = fitResponse(response, design);
  if (isReportRefusal(fitted)) return fitted.message;
  const matter = pairsThatMatter(response, design, judging);
  if (isReportRefusal(matter)) return matter.message;
  if (matter.pairs.length === 0) return '';
  const differences = pairwiseDifferences(fitted.means, matter.pairs);
  if (isRefusal(differences)) return '';
  const decided = decide(chooseProcedure(judging.decidedBy, matter.kind, differences.length), {
    differences,
    kind: matter.kind,
    means: fitted.means,
    alpha: judging.alpha,
    treatmentP: fitted.fit.rows.find((row) => row.term === 'treatment')?.p ?? null,
  });
  if (isReportRefusal(decided)) return decided.message;
  const names = design.treatments.map((own) => response.treatments[own] ?? '');
  return judgedComparisons(differences, decided, judging, { names, said: names }).map((one) => {
    const terms = termsOfPair(one.pair, { response, design, surroundings, fitted });
    return {
      a: one.a,
      b: one.b,
      estimate: one.estimate,
      lower: one.lower,
      upper: one.upper,
      difference: differenceVerdict(one.real, one.equivalence, one.equivalence.margin),
      money: terms?.known === true ? moneyVerdict(one, terms.breakEven) : null,
    };
  });
}

/** For one answer: the first block without which its verdict on the difference would read otherwise. */
export function blockWeakness(answer: ReportAnswer, table: readonly LeftOut[]): readonly string[] {
  if (answer.difference === null || answer.difference === 'Not settled') return [];
  for (const { block, comparisons } of table) {
    const without = comparisons.find(({ a, b }) => a === answer.a && b === answer.b);
    if (without === undefined || without.difference === null || without.difference === answer.difference)
      continue;
    return [blockMakesAnswer(block, answer.a, answer.b, without.difference)];
  }
  return [];
}
