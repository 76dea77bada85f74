import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { withInterval } from '../../analyses/fisher-lsd.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import type { JudgedDifference, PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { Response } from '../../analyses/response.ts';
import type { SplitPlot, SplitPlotDifference } from '../../analyses/split-plot.ts';
import type { PlainMean } from '../../analyses/two-factor-means.ts';
import { anovaLabel } from '../words/anova-labels.ts';
import {
  differenceKindLabel,
  interactionFound,
  splitPlotDecides,
  splitPlotUnguarded,
} from '../words/design-sentences.ts';
import { levelText, pPhrase } from '../words/number-formats.ts';
import { fewErrorDf, ONE_FIELD_ONE_SEASON } from '../words/weakening-sentences.ts';
import { randomizationNotMade } from './agreeing-tests.ts';
import { ownHeading } from './anova-rows.ts';
import { type AssumptionCheck, residualChecks } from './assumption-checks.ts';
import { answerOf, type JudgedComparison } from './comparison-answer.ts';
import { comparisonRow } from './comparison-rows.ts';
import { detectableOf } from './detectable.ts';
import { blockWeakness, withoutEachBlock } from './leave-one-block-out.ts';
import type { AnovaSource, ReportResponse } from './report-model.ts';
import { isReportRefusal, type ReportRefusal } from './report-refusal.ts';
import { designOf, type ResponseDesign } from './response-design.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';
import {
  comparisonsThatMatter,
  type FactorSource,
  judgedMatters,
  type Matters,
  type SplitPlotFit,
  splitPlotFit,
} from './split-plot-fit.ts';
import { whatWouldSettle } from './what-would-settle.ts';

const SOURCE_OF: Readonly<Record<SplitPlot['rows'][number]['source'], AnovaSource>> = {
  block: 'block',
  mainFactor: 'factorA',
  mainError: 'mainError',
  subFactor: 'factorB',
  interaction: 'factorA:factorB',
  subError: 'error',
};
const FEW_ERROR_DF = 6;

interface Split extends SplitPlotFit {
  readonly surroundings: Surroundings;
  readonly checks: readonly AssumptionCheck[];
}

/**
 * A split plot in blocks: main levels judged by the error of main plots, sub levels and the interaction by that of
 * sub-plots, and each kind of difference by its own standard error. The comparisons that matter are those of main levels
 * and those of sub levels, guarded together by Bonferroni, which takes errors of different df; combinations are shown.
 * Incomplete ones are refused: their errors do not come apart by least squares.
 */
export function splitPlotReport(
  empty: ReportResponse,
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
  surroundings: Surroundings,
): ReportResponse | ReportRefusal {
  const report = splitPlotAnalysis(empty, response, design, judging, surroundings);
  if (isReportRefusal(report)) return report;
  const leaveOneBlockOut = withoutEachBlock(
    response,
    design,
    (kept) => {
      const without = splitPlotAnalysis(empty, kept, designOf(kept), judging, surroundings);
      return isReportRefusal(without) ? without.message : without.answers.map(verdictOf);
    },
    // By place, since a level of one factor may be called as one of the other.
    (comparisons) => comparisons.some((one, i) => one.difference !== report.answers[i]?.difference),
  );
  const answers = report.answers.map((one) => ({
    ...one,
    weakens: [...one.weakens, ...blockWeakness(one, leaveOneBlockOut)],
  }));
  return { ...report, answers, leaveOneBlockOut };
}

function verdictOf({ a, b, estimate, interval, difference, money }: ReportResponse['answers'][number]) {
  const { lower, upper } = interval;
  return { a, b, estimate, lower, upper, difference, money };
}

function splitPlotAnalysis(
  empty: ReportResponse,
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
  surroundings: Surroundings,
): ReportResponse | ReportRefusal {
  const fitted = splitPlotFit(response, design, judging);
  if (isReportRefusal(fitted)) return fitted;
  const { analysis, data, block, main, sub } = fitted;
  const checks = residualChecks(errorDf(analysis, 'mainError'), subPlotResiduals(data, block, main, sub));
  return reported(empty, { ...fitted, checks, surroundings });
}

function errorDf(analysis: SplitPlot, of: 'mainError' | 'subError'): number {
  return analysis.rows.find(({ source }) => source === of)?.df ?? 0;
}

/** Of the model that splitPlot fits: main plots, sub levels and the interaction taken out. */
function subPlotResiduals(
  data: Response,
  block: FactorTerm,
  main: FactorTerm,
  sub: FactorTerm,
): readonly number[] {
  const crossed = (first: FactorTerm, second: FactorTerm) => ({
    kind: 'interaction' as const,
    id: `${first.id}:${second.id}`,
    factors: [first.id, second.id] as const,
  });
  const fit = fitLinearModel(data, [block, main, crossed(block, main), sub, crossed(main, sub)]);
  return isRefusal(fit) ? [] : fit.residuals;
}

function reported(empty: ReportResponse, split: Split): ReportResponse | ReportRefusal {
  const { analysis, response, judging, surroundings } = split;
  const matter = comparisonsThatMatter(split);
  if ('whatWouldHelp' in matter) return matter;
  const total = { ...analysis.total, ms: null, f: null, p: null };
  return {
    ...empty,
    anova: [
      ...analysis.rows.map(({ source, df, ss, ms, f, p }) => {
        const own = SOURCE_OF[source];
        return {
          source: own,
          label: anovaLabel(own, ownHeading(own, response, surroundings)),
          df,
          ss,
          ms,
          f,
          p,
        };
      }),
      { source: 'total' as const, label: anovaLabel('total'), ...total },
    ],
    grandMean: analysis.grandMean,
    cvPercent: analysis.cvSubPercent,
    means: cellMeans(split),
    comparisons: cellComparisons(split),
    factors: (['factorA', 'factorB'] as const).map((source) => factorSummary(source, split)),
    differenceKinds: differenceKinds(split),
    checks: split.checks.map(({ row }) => row),
    agreement: [randomizationNotMade()],
    detectable: detectableOf(
      matter.map(({ row }) => row),
      judging.alpha,
    ),
    ...decisions(matter, split),
  };
}

function decisions(matter: readonly Matters[], split: Split): Pick<ReportResponse, 'decidedBy' | 'answers'> {
  const { judging } = split;
  const count = matter.length;
  const { procedure, comparisons } = judgedMatters(matter, split);
  const guarded = procedure !== 'lsd';
  const text = levelText(judging.alpha);
  return {
    decidedBy: {
      procedure,
      why: guarded
        ? splitPlotDecides(count, text, judging.decidedBy !== 'auto')
        : splitPlotUnguarded(count, text),
      chanceOfOneFalseReal: guarded || count === 1 ? judging.alpha : null,
    },
    answers: comparisons.map((own) => answer(own, procedure, split)),
  };
}

function answer(
  judged: JudgedComparison,
  procedure: string,
  split: Split,
): ReportResponse['answers'][number] {
  const { response, judging, surroundings, analysis } = split;
  const made = answerOf(judged, {
    response: response.name,
    unit: response.unit,
    alpha: judging.alpha,
    grandMean: analysis.grandMean,
    decidedBy: procedure,
    money: null,
    whyNoMoney: surroundings.whyNoMoney,
    reasons: [ONE_FIELD_ONE_SEASON],
    weakens: [...weaknesses(judged.test?.df ?? 0, split), ...surroundings.weakens],
  });
  return { ...made, wouldSettle: whatWouldSettle(made, null, null) };
}

function weaknesses(df: number, { analysis, judging, factors, checks }: Split): string[] {
  const interaction = analysis.rows.find(({ source }) => source === 'interaction')?.p ?? null;
  return [
    ...(df < FEW_ERROR_DF ? [fewErrorDf(df)] : []),
    ...(interaction !== null && interaction < judging.alpha
      ? [interactionFound(factors.a.heading, factors.b.heading, pPhrase(interaction))]
      : []),
    ...checks.flatMap((check) => check.weakens ?? []),
  ];
}

/** Means of combinations; a single one has no error of its own to show, only differences have. */
function cellMeans({ compared, design, names }: Split): ReportResponse['means'] {
  const labels = cellNames(names);
  const n = design.plots.length / labels.length;
  return compared.means.cells.map((cell, level) => plainMeanRow(cell, labels[level] ?? '', n));
}

function plainMeanRow({ mean }: PlainMean, treatment: string, n: number) {
  return {
    treatment,
    n,
    mean,
    adjustedMean: mean,
    standardError: null,
    lower: null,
    upper: null,
    letters: {},
  };
}

function cellNames(names: Split['names']): string[] {
  return names.factorA.flatMap((a) => names.factorB.map((b) => `${a}, ${b}`));
}

/** Every pair of combinations by the t of its own kind. */
function cellComparisons({ compared, judging, names }: Split): ReportResponse['comparisons'] {
  const { subWithinMain, mainAtSub, bothDiffer } = compared.differences;
  const rows = [...subWithinMain, ...mainAtSub, ...bothDiffer].sort((x, y) => x.a - y.a || x.b - y.b);
  return byLsd(rows, judging.alpha).map((row) => comparisonRow('lsd', row, cellNames(names)));
}

function byLsd(rows: readonly PairwiseDifference[], alpha: number): JudgedDifference[] {
  return rows.map((row) => withInterval(row, row.pUnadjusted, tUpperQuantile(alpha / 2, row.df)));
}

function factorSummary(source: FactorSource, split: Split): ReportResponse['factors'][number] {
  const { compared, judging, names, factors, design, analysis } = split;
  const isMain = source === 'factorA';
  const rows = isMain ? compared.differences.main : compared.differences.sub;
  const means = isMain ? compared.means.first : compared.means.second;
  const own = isMain ? analysis.differences.main : analysis.differences.sub;
  const n = design.plots.length / names[source].length;
  return {
    source,
    label: isMain ? factors.a.heading : factors.b.heading,
    means: means.map((mean, level) => plainMeanRow(mean, names[source][level] ?? '', n)),
    comparisons: byLsd(rows, judging.alpha).map((row) => comparisonRow('lsd', row, names[source])),
    standardErrorOfDifference: own.standardError,
    lsd: { alpha: judging.alpha, df: own.df, value: own.lsd },
  };
}

function differenceKinds({ analysis, factors }: Split): ReportResponse['differenceKinds'] {
  const { main, sub, subWithinMain, mainAtSub } = analysis.differences;
  const kinds: readonly (readonly [
    ReportResponse['differenceKinds'][number]['kind'],
    SplitPlotDifference,
  ])[] = [
    ['factorA', main],
    ['factorB', sub],
    ['factorBWithinA', subWithinMain],
    ['factorAAtB', mainAtSub],
  ];
  return kinds.map(([kind, { standardError, df, criticalValue, lsd }]) => ({
    kind,
    label: differenceKindLabel(kind, factors.a.heading, factors.b.heading),
    standardError,
    df,
    criticalValue,
    lsd,
  }));
}
