import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { twoOneSidedTests } from '../../analyses/equivalence.ts';
import { withInterval } from '../../analyses/fisher-lsd.ts';
import { holmAdjusted } from '../../analyses/holm.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import type { PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { Response } from '../../analyses/response.ts';
import { type SplitPlot, splitPlot } from '../../analyses/split-plot.ts';
import { type SplitPlotComparisons, splitPlotComparisons } from '../../analyses/split-plot-comparisons.ts';
import type { JudgedComparison } from './comparison-answer.ts';
import { machineInModel } from './machine-term.ts';
import { factorOf, occurringLevels } from './plot-factors.ts';
import { fromRefusal, type ReportRefusal, reportRefusal } from './report-refusal.ts';
import type { ResponseDesign } from './response-design.ts';
import { type Judging, PLAIN_MODEL, type PlotModel, type ResponsePlots } from './response-plots.ts';

type Factors = NonNullable<PlotModel['factors']>;
export type FactorSource = 'factorA' | 'factorB';

/** A split plot as it was analysed, before anything is said of it. */
export interface SplitPlotFit {
  readonly response: ResponsePlots;
  readonly design: ResponseDesign;
  readonly judging: Judging;
  readonly factors: Factors;
  readonly data: Response;
  readonly block: FactorTerm;
  readonly main: FactorTerm;
  readonly sub: FactorTerm;
  readonly analysis: SplitPlot;
  readonly compared: SplitPlotComparisons;
  /** Levels that occur, as people read them. */
  readonly names: Readonly<Record<FactorSource, readonly string[]>>;
}

/** What a split plot carries, or why it is refused: see `splitPlotReport`. */
export function splitPlotFit(
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
): SplitPlotFit | ReportRefusal {
  const factors = response.model?.factors;
  if (!factors) throw new RangeError('splitPlotFit: expected a model with two factors');
  if (response.blocks === null) return reportRefusal('splitPlotNeedsBlocks');
  const asksMore = (response.contrasts ?? []).length > 0 || response.followsRate === true;
  const model = response.model ?? PLAIN_MODEL;
  if (model.covariate !== null || model.trend !== null || asksMore)
    return reportRefusal('splitPlotPlainOnly');
  // Machines that each cut whole blocks are taken out with the blocks; others would stand in both errors.
  if (machineInModel(response, design.plots).term !== null) return reportRefusal('machineInSplitPlot');
  if (!DECIDERS.includes(judging.decidedBy))
    return reportRefusal('procedureNotForSplitPlot', { procedure: judging.decidedBy });
  const { plots } = design;
  const main = factorOf('factorA', plots, ({ factorA }) => factorA);
  const sub = factorOf('factorB', plots, ({ factorB }) => factorB);
  const block = factorOf('block', plots, (plot) => plot.block);
  const data = { origin: response.origin, deviations: design.deviations };
  const analysis = splitPlot(data, block, main, sub, judging.alpha);
  if (isRefusal(analysis))
    return analysis.code === 'emptyCell'
      ? incomplete(analysis.details, response, factors)
      : fromRefusal(analysis);
  const names = {
    factorA: occurringLevels(plots, ({ factorA }) => factorA).map((own) => factors.a.names[own] ?? ''),
    factorB: occurringLevels(plots, ({ factorB }) => factorB).map((own) => factors.b.names[own] ?? ''),
  };
  const compared = splitPlotComparisons(data, main, sub, analysis);
  return { response, design, judging, factors, data, block, main, sub, analysis, compared, names };
}

const DECIDERS: readonly string[] = ['auto', 'bonferroni', 'holm', 'lsd'];

function incomplete(
  details: Readonly<Record<string, string | number>>,
  response: ResponsePlots,
  factors: Factors,
): ReportRefusal {
  const name = (names: readonly string[] | null, index: unknown) => names?.[Number(index)] ?? String(index);
  return reportRefusal('splitPlotIncomplete', {
    block: name(response.blocks, details.block),
    main: name(factors.a.names, details.mainFactor),
    sub: name(factors.b.names, details.subFactor),
    plots: details.plots ?? 0,
  });
}

export interface Matters {
  readonly source: FactorSource;
  readonly row: PairwiseDifference;
}

/** All pairs of main levels and of sub levels; with a check, which is a level of one factor, those against it. */
export function comparisonsThatMatter({
  compared,
  judging,
  response,
  names,
}: SplitPlotFit): Matters[] | ReportRefusal {
  const { main, sub } = compared.differences;
  const all: Matters[] = [
    ...main.map((row) => ({ source: 'factorA' as const, row })),
    ...sub.map((row) => ({ source: 'factorB' as const, row })),
  ];
  if (judging.checkLevel === undefined || judging.checkLevel === null) return all;
  const check = judging.checkLevel;
  const against = all.flatMap(({ source, row }): Matters[] => {
    const level = names[source].indexOf(check);
    if (row.b === level) return [{ source, row }];
    return row.a === level ? [{ source, row: turned(row) }] : [];
  });
  return against.length > 0 ? against : reportRefusal('checkIsNoLevel', { check, response: response.name });
}

function turned(row: PairwiseDifference): PairwiseDifference {
  return { ...row, a: row.b, b: row.a, difference: -row.difference, t: -row.t };
}

export interface JudgedMatters {
  readonly procedure: 'bonferroni' | 'holm' | 'lsd';
  /** One a comparison that matters, in order. */
  readonly comparisons: readonly JudgedComparison[];
}

/** Each comparison by the error of its own stratum, all of them guarded together unless the LSD was chosen. */
export function judgedMatters(matter: readonly Matters[], fit: SplitPlotFit): JudgedMatters {
  const { judging } = fit;
  const count = matter.length;
  const procedure = (
    judging.decidedBy === 'auto' ? 'bonferroni' : judging.decidedBy
  ) as JudgedMatters['procedure'];
  const level = procedure === 'lsd' ? judging.alpha : judging.alpha / count;
  const holm = holmAdjusted(matter.map(({ row }) => row.pUnadjusted));
  const adjusted = (row: PairwiseDifference, i: number) => {
    if (procedure === 'holm') return holm[i] ?? 1;
    return procedure === 'lsd' ? row.pUnadjusted : Math.min(1, count * row.pUnadjusted);
  };
  const comparisons = matter.map((own, i) =>
    judgedComparison(own, adjusted(own.row, i), level, procedure, fit),
  );
  return { procedure, comparisons };
}

function judgedComparison(
  { source, row }: Matters,
  p: number,
  level: number,
  procedure: string,
  { judging, names, factors }: SplitPlotFit,
): JudgedComparison {
  const { lower, upper } = withInterval(row, row.pUnadjusted, tUpperQuantile(level / 2, row.df));
  const heading = source === 'factorA' ? factors.a.heading : factors.b.heading;
  const [a, b] = [names[source][row.a] ?? '', names[source][row.b] ?? ''];
  const rowName = shareNames(factors) ? (own: string) => `${heading} ${own}` : (own: string) => own;
  return {
    pair: [row.a, row.b],
    a: rowName(a),
    b: rowName(b),
    saidA: `${heading} ${a}`,
    saidB: `${heading} ${b}`,
    estimate: row.difference,
    standardError: row.standardError,
    real: p < judging.alpha,
    lower,
    upper,
    intervalProcedure: procedure === 'holm' ? 'bonferroni' : procedure,
    test: { t: row.t, df: row.df, p },
    equivalence: equivalence(row, judging),
  };
}

/** A level of one factor is called as one of the other ("1", "2"): rows then need the heading of their factor. */
function shareNames({ a, b }: Factors): boolean {
  return a.names.some((name) => b.names.includes(name));
}

function equivalence(row: PairwiseDifference, { margin, alpha }: Judging): JudgedComparison['equivalence'] {
  const half = tUpperQuantile(alpha, row.df) * row.standardError;
  const [lower, upper] = [row.difference - half, row.difference + half];
  const tested = margin === null ? null : twoOneSidedTests(row, margin, alpha);
  return { lower, upper, margin, p: tested === null || isRefusal(tested) ? null : tested.p };
}
