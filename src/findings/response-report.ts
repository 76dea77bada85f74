import { commonStandardError, fisherLsd } from '../../analyses/fisher-lsd.ts';
import {
  type LevelPair,
  type PairwiseDifference,
  pairwiseDifferences,
} from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { Problem } from '../trial/problem.ts';
import { chanceOfFalseReal, whyDecides } from '../words/deciding-sentences.ts';
import { treatmentInSentence } from '../words/treatment-in-sentence.ts';
import { ONE_FIELD_ONE_SEASON, SMALL_ERROR_DF_CHECK } from '../words/weakening-sentences.ts';
import { anovaRows } from './anova-rows.ts';
import { type BlocksForMargin, blocksNeededForMargin } from './blocks-for-margin.ts';
import { answerOf, economicsRow, type JudgedComparison } from './comparison-answer.ts';
import { bareComparisonRow, comparisonRow, pairedRow } from './comparison-rows.ts';
import { pairWeaknesses, responseWeaknesses } from './comparison-weaknesses.ts';
import { chooseProcedure, type Decided, decide } from './deciding-procedure.ts';
import { detectableOf } from './detectable.ts';
import { judgedComparisons, unjudgedComparisons } from './judged-comparisons.ts';
import { commonMeanError, meanRows, type PairDecisions } from './mean-rows.ts';
import { everyPair, type PairsThatMatter, pairsThatMatter } from './pairs-that-matter.ts';
import type { ReportComparison, ReportResponse } from './report-model.ts';
import { fromRefusal, isReportRefusal, type ReportRefusal } from './report-refusal.ts';
import { designOf, type ResponseDesign } from './response-design.ts';
import { fitResponse, type ResponseFit } from './response-fit.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';
import { whatWouldSettle } from './what-would-settle.ts';

/** One response analysed, with what there is to say about its strips. */
export interface ReportedResponse {
  readonly report: ReportResponse;
  readonly problems: readonly Problem[];
}

/** Everything the later steps look at; levels are those of the design. */
interface Analysed {
  readonly response: ResponsePlots;
  readonly judging: Judging;
  readonly surroundings: Surroundings;
  readonly design: ResponseDesign;
  readonly fitted: ResponseFit;
  /** By level, as tables name treatments. */
  readonly names: readonly string[];
  /** By level, as sentences call them. */
  readonly said: readonly string[];
  readonly matter: PairsThatMatter;
}

const FEW_FOR_CHECKS = 8;
/** Procedures that judge each pair alone. */
const UNGUARDED: readonly string[] = ['t', 'lsd', 'protectedLsd'];

/**
 * Analyses one response: the model that its strips carry, the comparisons that matter, the answers. Refusals leave
 * all tables empty. Without error df the tables hold means and differences, and every verdict is null.
 */
export function reportResponse(
  response: ResponsePlots,
  judging: Judging,
  surroundings: Surroundings,
): ReportedResponse {
  const design = designOf(response);
  const refused = (refusal: ReportRefusal): ReportedResponse => ({
    report: { ...emptyReport(response, design, judging), refusal },
    problems: design.problems,
  });
  const fitted = fitResponse(response, design);
  if (isReportRefusal(fitted)) return refused(fitted);
  const matter = pairsThatMatter(response, design, judging);
  if (isReportRefusal(matter)) return refused(matter);

  const names = design.treatments.map((own) => response.treatments[own] ?? '');
  const said = names.map((name) => treatmentInSentence(name, surroundings.treatmentHeading));
  const analysed = { response, judging, surroundings, design, fitted, names, said, matter };
  const report = fitted.fit.error.df === 0 ? numbersOnly(analysed) : judgedReport(analysed);
  if (isReportRefusal(report)) return refused(report);
  return { report, problems: [...design.problems, ...matter.problems] };
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
  };
}

/** What holds with and without an error to judge by. */
function commonReport({ response, design, judging, surroundings, fitted }: Analysed): ReportResponse {
  return {
    ...emptyReport(response, design, judging),
    anova: anovaRows(fitted.fit, surroundings),
    grandMean: fitted.fit.grandMean,
    cvPercent: fitted.fit.cvPercent,
    checks: fitted.fit.error.df < FEW_FOR_CHECKS ? [smallErrorDf(fitted.fit.error.df)] : [],
  };
}

function smallErrorDf(df: number): ReportResponse['checks'][number] {
  return { ...SMALL_ERROR_DF_CHECK, statistic: df, p: null };
}

function numbersOnly(analysed: Analysed): ReportResponse {
  const { response, design, judging, fitted, names, matter } = analysed;
  const judged = unjudgedComparisons(fitted, matter.pairs, judging, analysed);
  return {
    ...commonReport(analysed),
    means: meanRows(fitted.means, names, judging.alpha, response.better, []),
    comparisons: everyPair(design, judging.check).map((pair) => bareComparisonRow(pair, fitted.means, names)),
    ...answersAndMoney(analysed, judged, null),
  };
}

function judgedReport(analysed: Analysed): ReportResponse | ReportRefusal {
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
  const judged =
    decided === null ? [] : judgedComparisons(decided.differences, decided.decided, judging, analysed);
  return {
    ...commonReport(analysed),
    standardErrorOfMean: commonMeanError(fitted.means),
    standardErrorOfDifference: commonStandardError(all),
    lsd: { alpha: judging.alpha, df: lsd.df, value: lsd.lsd },
    means: meanRows(fitted.means, names, judging.alpha, response.better, [
      lsdDecisions,
      ...decidingLetters(decided?.decided ?? null, matter),
    ]),
    comparisons: [
      ...lsd.comparisons.map((row) => comparisonRow('lsd', row, names)),
      ...(decided?.decided.rows ?? []).map(({ procedure, row }) => comparisonRow(procedure, row, names)),
      ...pairedRows(analysed),
    ],
    detectable: detectableOf(decided?.differences ?? all, judging.alpha),
    decidedBy: decided === null ? null : decidedByOf(decided.decided, judged.length, analysed),
    ...answersAndMoney(analysed, judged, decided?.decided ?? null),
  };
}

interface DecidedPairs {
  readonly differences: readonly PairwiseDifference[];
  readonly decided: Decided;
}

/** null where none of the comparisons that matter has values. */
function decideOn(
  differences: readonly PairwiseDifference[],
  { judging, fitted, matter }: Analysed,
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

/** The rows of the pairs that matter, each turned round where the table has it the other way. */
function differencesOf(
  pairs: readonly LevelPair[],
  rows: readonly PairwiseDifference[],
): readonly PairwiseDifference[] {
  const rowOf = new Map(rows.map((row) => [`${row.a} ${row.b}`, row]));
  return pairs.flatMap(([a, b]) => {
    const same = rowOf.get(`${a} ${b}`);
    if (same !== undefined) return [same];
    const turned = rowOf.get(`${b} ${a}`);
    return turned === undefined ? [] : [{ ...turned, a, b, difference: -turned.difference, t: -turned.t }];
  });
}

/** Letters need a decision on every pair; those of the LSD are given in any case. */
function decidingLetters(decided: Decided | null, matter: PairsThatMatter): readonly PairDecisions[] {
  if (decided === null || matter.kind !== 'allPairs') return [];
  if (decided.procedure === 't' || decided.procedure === 'lsd') return [];
  return [{ procedure: decided.procedure, rows: decided.intervals, real: decided.real }];
}

/** For two treatments, and for each treatment against the check. */
function pairedRows({ design, judging, names }: Analysed): ReportComparison[] {
  const pairs = everyPair(design, judging.check);
  const check = judging.check === null ? -1 : design.treatments.indexOf(judging.check);
  const paired = names.length === 2 ? pairs : pairs.filter(([, b]) => b === check);
  return paired.flatMap((pair) => pairedRow(pair, design, judging.alpha, names) ?? []);
}

function decidedByOf(decided: Decided, comparisons: number, analysed: Analysed): ReportResponse['decidedBy'] {
  const { procedure, chanceOfOneFalseReal } = decided;
  return { procedure, why: why(decided, comparisons, analysed), chanceOfOneFalseReal };
}

function why(decided: Decided, comparisons: number, { judging, design }: Analysed): string {
  return whyDecides({
    procedure: decided.procedure,
    comparisons,
    treatments: design.treatments.length,
    alpha: judging.alpha,
    chosen: judging.decidedBy !== 'auto',
    significantF: decided.significantF,
  });
}

function answersAndMoney(
  analysed: Analysed,
  judged: readonly JudgedComparison[],
  decided: Decided | null,
): Pick<ReportResponse, 'answers' | 'economics'> {
  const { response, design, judging, surroundings, fitted } = analysed;
  const errorDf = fitted.fit.error.df;
  const weakens = responseWeaknesses(response, design, errorDf, decided?.procedure ?? null);
  const reasons = [...procedureReasons(decided, judged.length, analysed), ONE_FIELD_ONE_SEASON];
  const termsOf = (one: JudgedComparison) =>
    surroundings.money?.(design.treatments[one.pair[0]] ?? 0, design.treatments[one.pair[1]] ?? 0) ?? null;
  const blocks = blocksForMargin(analysed, decided, judged.length);
  const answers = judged.map((one) => {
    const money = termsOf(one);
    const ofPair = pairWeaknesses(one.pair, response, design, fitted.means, surroundings);
    const answer = answerOf(one, {
      response: response.name,
      unit: response.unit,
      alpha: judging.alpha,
      grandMean: fitted.fit.grandMean,
      decidedBy: decided?.procedure ?? 'none',
      money,
      whyNoMoney: surroundings.whyNoMoney,
      reasons,
      weakens: [...weakens, ...ofPair, ...surroundings.weakens],
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
  { response, design, judging, fitted }: Analysed,
  decided: Decided | null,
  comparisons: number,
): BlocksForMargin | null {
  if (decided === null || design.design === 'completelyRandomized') return null;
  const guarded = !UNGUARDED.includes(decided.procedure);
  return blocksNeededForMargin({
    blocks: design.blocks.length,
    treatments: design.treatments.length,
    cvPercent: fitted.fit.cvPercent,
    grandMean: fitted.fit.grandMean,
    margin: judging.margin,
    unit: response.unit,
    alpha: guarded ? judging.alpha / comparisons : judging.alpha,
  });
}

/**
 * Where pairs are judged without guard for their number, the answer states the chance of a false Real; where the F test
 * forbids to call anything real, it says so.
 */
function procedureReasons(
  decided: Decided | null,
  comparisons: number,
  analysed: Analysed,
): readonly string[] {
  if (decided === null) return [];
  const forbidden = decided.significantF === false ? [why(decided, comparisons, analysed)] : [];
  const unguarded = comparisons > 1 && UNGUARDED.includes(decided.procedure);
  const chance = chanceOfFalseReal(decided.procedure, decided.chanceOfOneFalseReal, comparisons);
  return unguarded ? [...forbidden, chance] : forbidden;
}
