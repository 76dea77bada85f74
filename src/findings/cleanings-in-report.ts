import {
  type CleaningTurns,
  cleaningDecides,
  cleaningHolds,
  cleaningsWithoutVerdict,
} from '../words/cleaning-sentences.ts';
import type { ReportAnswer, ReportModel, ReportResponse } from './report-model.ts';

export type ReportCleanings = NonNullable<ReportResponse['cleanings']>;
type FoundCleanings = Omit<ReportCleanings, 'meaning'>;

/**
 * The report with what other reasonable cleanings would have said of its yields: in the answers that hang on the
 * cleaning, as what makes them weaker, with the settings that turn them (`turns`, one a comparison); in the others as a
 * reason. null where the cleanings' own verdicts are not
 * those of the report, so that nothing can be said of it.
 */
export function withCleanings(
  report: ReportModel,
  found: FoundCleanings,
  turns: readonly CleaningTurns[],
): ReportModel | null {
  const at = report.responses.findIndex(({ name }) => name === 'yield');
  const response = report.responses[at];
  if (response === undefined || !areOfSameComparisons(response, found)) return null;
  const answers = response.answers.map((answer, k) => said(answer, found, turns, k));
  const cleanings = { ...found, meaning: meaningOf(found, turns) };
  return { ...report, responses: report.responses.with(at, { ...response, answers, cleanings }) };
}

function areOfSameComparisons({ answers }: ReportResponse, { comparisons }: FoundCleanings): boolean {
  return (
    answers.length === comparisons.length &&
    comparisons.every((one, k) => {
      const answer = answers[k];
      const isSame = answer?.a === one.a && answer.b === one.b;
      return isSame && answer.difference === one.difference && answer.money === one.money;
    })
  );
}

function said(
  answer: ReportAnswer,
  { comparisons, judged }: FoundCleanings,
  turns: readonly CleaningTurns[],
  k: number,
): ReportAnswer {
  const [flips, own] = [comparisons[k], turns[k]];
  if (flips === undefined || own === undefined) return answer;
  if (flips.differenceFlips + flips.moneyFlips === 0)
    return { ...answer, reasons: [...answer.reasons, cleaningHolds(judged)] };
  return { ...answer, weakens: [...answer.weakens, cleaningDecides({ ...flips, judged, turns: own })] };
}

function meaningOf({ tried, judged, comparisons }: FoundCleanings, turns: readonly CleaningTurns[]): string {
  const moved = comparisons.flatMap((one, k) => {
    const own = turns[k];
    return own === undefined || one.differenceFlips + one.moneyFlips === 0 ? [] : [{ ...one, turns: own }];
  });
  const verdicts =
    moved.length === 0 ? [cleaningHolds(judged)] : moved.map((one) => cleaningDecides({ ...one, judged }));
  return [...verdicts, ...(judged === tried ? [] : [cleaningsWithoutVerdict(tried, judged)])].join(' ');
}
