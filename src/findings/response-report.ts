import { commonStandardError, fisherLsd } from '../../analyses/fisher-lsd.ts';
import {
  type LevelPair,
  type PairwiseDifference,
  pairwiseDifferences,
} from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { Problem } from '../trial/problem.ts';
import { treatmentInSentence } from '../words/treatment-in-sentence.ts';
import { agreeingTests, rankedPairsOf } from './agreeing-tests.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { anovaRows } from './anova-rows.ts';
import { type AssumptionCheck, assumptionChecks } from './assumption-checks.ts';
import { blockingOf } from './blocking-efficiency.ts';
import { bareComparisonRow, comparisonRow, pairedRow } from './comparison-rows.ts';
import { decidedByOf } from './decided-by.ts';
import { chooseProcedure, type Decided, decide } from './deciding-procedure.ts';
import { detectableOf } from './detectable.ts';
import { factorSummaries } from './factor-summaries.ts';
import { judgedComparisons, unjudgedComparisons } from './judged-comparisons.ts';
import { commonMeanError, meanRows, type PairDecisions } from './mean-rows.ts';
import { everyPair, type PairsThatMatter, pairsThatMatter } from './pairs-that-matter.ts';
import { contrastComparisons, contrastRows, ratesOf } from './planned-questions.ts';
import type { ReportComparison, ReportResponse } from './report-model.ts';
import { fromRefusal, isReportRefusal, type ReportRefusal } from './report-refusal.ts';
import { answersAndMoney } from './response-answers.ts';
import { designOf, type ResponseDesign } from './response-design.ts';
import { fitResponse } from './response-fit.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';
import { broughtBack, onChosenScale } from './response-scale.ts';
import { letterDecisions, shownProcedures } from './shown-procedures.ts';
import { splitPlotReport } from './split-plot-report.ts';

/** One response analysed, with what there is to say about its strips. */
export interface ReportedResponse {
  readonly report: ReportResponse;
  readonly problems: readonly Problem[];
}

/**
 * Analyses one response: the model that its strips carry, the comparisons that matter, the answers. Refusals leave
 * all tables empty. Without error df the tables hold means and differences, and every verdict is null.
 */
export function reportResponse(
  asMeasured: ResponsePlots,
  judgingAsMeasured: Judging,
  around: Surroundings,
): ReportedResponse {
  const scaled = onChosenScale(asMeasured, judgingAsMeasured, around);
  if (isReportRefusal(scaled)) {
    const design = designOf(asMeasured);
    const report = { ...emptyReport(asMeasured, design, judgingAsMeasured), refusal: scaled };
    return { report, problems: design.problems };
  }
  const { response, judging, surroundings } = scaled;
  const design = designOf(response);
  const refused = (refusal: ReportRefusal): ReportedResponse => ({
    report: { ...emptyReport(response, design, judging), refusal },
    problems: [...design.problems, ...scaled.problems],
  });
  if (design.design === 'splitPlot') {
    const split = splitPlotReport(
      emptyReport(response, design, judging),
      response,
      design,
      judging,
      surroundings,
    );
    return isReportRefusal(split)
      ? refused(split)
      : { report: split, problems: [...design.problems, ...scaled.problems] };
  }
  const fitted = fitResponse(response, design);
  if (isReportRefusal(fitted)) return refused(fitted);
  const matter = pairsThatMatter(response, design, judging);
  if (isReportRefusal(matter)) return refused(matter);

  const names = design.treatments.map((own) => response.treatments[own] ?? '');
  const said = names.map((name) => treatmentInSentence(name, surroundings.treatmentHeading));
  const analysed = { response, judging, surroundings, design, fitted, names, said, matter };
  const report = fitted.fit.error.df === 0 ? numbersOnly(analysed) : judgedReport(analysed);
  if (isReportRefusal(report)) return refused(report);
  return {
    report: broughtBack(report, fitted, scaled),
    problems: [...design.problems, ...scaled.problems, ...matter.problems],
  };
}

function emptyReport(response: ResponsePlots, design: ResponseDesign, judging: Judging): ReportResponse {
  return {
    name: response.name,
    unit: response.unit,
    design: design.design,
    better: response.better,
    alpha: judging.alpha,
    refusal: null,
    anova: [],
    grandMean: null,
    cvPercent: null,
    standardErrorOfMean: null,
    standardErrorOfDifference: null,
    lsd: { alpha: judging.alpha, df: null, value: null },
    means: [],
    comparisons: [],
    decidedBy: null,
    checks: [],
    agreement: [],
    detectable: null,
    answers: [],
    economics: [],
    leaveOneBlockOut: [],
    chances: null,
    flattery: null,
    replicatesForMargin: null,
    factors: [],
    differenceKinds: [],
    transformation: null,
    contrasts: [],
    rates: null,
    cleanings: null,
    blocking: null,
    rankedPairs: null,
  };
}

/** What holds with and without an error to judge by. */
function commonReport(analysed: AnalysedResponse, checks: readonly AssumptionCheck[]): ReportResponse {
  const { response, design, judging, surroundings, fitted } = analysed;
  return {
    ...emptyReport(response, design, judging),
    anova: anovaRows(fitted, response, surroundings),
    grandMean: fitted.fit.grandMean,
    cvPercent: fitted.fit.cvPercent,
    checks: checks.map(({ row }) => row),
    agreement: [...agreeingTests(analysed)],
    factors: factorSummaries(analysed),
  };
}

function numbersOnly(analysed: AnalysedResponse): ReportResponse {
  const { response, design, judging, fitted, names, matter } = analysed;
  const judged = unjudgedComparisons(fitted, matter.pairs, judging, analysed);
  const checks = assumptionChecks(analysed);
  return {
    ...commonReport(analysed, checks),
    means: meanRows(fitted.means, names, judging.alpha, response.better, []),
    comparisons: everyPair(design, judging.check).map((pair) => bareComparisonRow(pair, fitted.means, names)),
    ...answersAndMoney(analysed, judged, null, checks),
  };
}

function judgedReport(analysed: AnalysedResponse): ReportResponse | ReportRefusal {
  const { response, design, judging, fitted, names, matter } = analysed;
  const all = pairwiseDifferences(fitted.means, everyPair(design, judging.check));
  if (isRefusal(all)) return fromRefusal(all);
  const lsd = fisherLsd(all, judging.alpha);
  if (isRefusal(lsd)) return fromRefusal(lsd);
  const decided = decideOn(differencesOf(matter.pairs, all), analysed);
  if (decided !== null && isReportRefusal(decided)) return decided;

  const lsdDecisions = {
    procedure: 'lsd',
    rows: lsd.comparisons,
    real: lsd.comparisons.map((r) => r.p < judging.alpha),
  };
  const checks = assumptionChecks(analysed);
  const procedures = shownProcedures(
    analysed,
    all,
    decided?.differences ?? [],
    decided?.decided.procedure ?? null,
  );
  const judged =
    decided === null ? [] : judgedComparisons(decided.differences, decided.decided, judging, analysed);
  const contrasts = contrastRows(analysed);
  return {
    ...commonReport(analysed, checks),
    contrasts,
    blocking: blockingOf(analysed),
    rankedPairs: rankedPairsOf(analysed),
    rates: ratesOf(analysed),
    standardErrorOfMean: commonMeanError(fitted.means),
    standardErrorOfDifference: commonStandardError(all),
    lsd: { alpha: judging.alpha, df: lsd.df, value: lsd.lsd },
    means: meanRows(fitted.means, names, judging.alpha, response.better, [
      lsdDecisions,
      ...letterDecisions(procedures, judging.alpha),
      ...decidingLetters(decided?.decided ?? null, matter),
    ]),
    comparisons: [
      ...lsd.comparisons.map((row) => comparisonRow('lsd', row, names)),
      ...procedures.flatMap(({ procedure, rows }) => rows.map((row) => comparisonRow(procedure, row, names))),
      ...pairedRows(analysed),
      ...contrastComparisons(contrasts),
    ],
    detectable: detectableOf(decided?.differences ?? all, judging.alpha),
    decidedBy: decided === null ? null : decidedByOf(decided.decided, analysed),
    ...answersAndMoney(analysed, judged, decided?.decided ?? null, checks),
  };
}

interface DecidedPairs {
  readonly differences: readonly PairwiseDifference[];
  readonly decided: Decided;
}

/** null where none of the comparisons that matter has values. */
function decideOn(
  differences: readonly PairwiseDifference[],
  { judging, fitted, matter }: AnalysedResponse,
): DecidedPairs | ReportRefusal | null {
  if (differences.length === 0) return null;
  const procedure = chooseProcedure(judging.decidedBy, matter.kind, differences.length);
  const decided = decide(procedure, {
    differences,
    kind: matter.kind,
    means: fitted.means,
    alpha: judging.alpha,
    treatmentP: fitted.fit.rows.find((row) => row.term === 'treatment')?.p ?? null,
  });
  return isReportRefusal(decided) ? decided : { differences, decided };
}

/** The rows of the pairs that matter; every pair has one, and the same way round. */
function differencesOf(
  pairs: readonly LevelPair[],
  rows: readonly PairwiseDifference[],
): readonly PairwiseDifference[] {
  const rowOf = new Map(rows.map((row) => [`${row.a} ${row.b}`, row]));
  return pairs.map(([a, b]) => {
    const row = rowOf.get(`${a} ${b}`);
    if (row === undefined) throw new RangeError(`pair ${a} ${b}: expected a row, got none`);
    return row;
  });
}

/** Only the protected LSD decides otherwise than the procedures whose letters are there in any case. */
function decidingLetters(decided: Decided | null, matter: PairsThatMatter): readonly PairDecisions[] {
  if (decided?.procedure !== 'protectedLsd' || matter.kind !== 'allPairs') return [];
  return [{ procedure: decided.procedure, rows: decided.intervals, real: decided.real }];
}

/** For two treatments, and for each treatment against the check. */
function pairedRows({ design, judging, names }: AnalysedResponse): ReportComparison[] {
  const pairs = everyPair(design, judging.check);
  const check = judging.check === null ? -1 : design.treatments.indexOf(judging.check);
  const paired = names.length === 2 ? pairs : pairs.filter(([, b]) => b === check);
  return paired.flatMap((pair) => pairedRow(pair, design, judging.alpha, names) ?? []);
}
