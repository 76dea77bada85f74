import { balanced, sumsToZero } from '../trial/contrast-weights.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { DecidingProcedure, Inference } from '../trial/trial-document.ts';
import { NO_MONEY_IN_TABLE } from '../words/money-sentences.ts';
import { notUsedBecause } from '../words/strip-sentences.ts';
import { REPORT_VERSION, type ReportModel, type ReportStrip, type ReportTrial } from './report-model.ts';
import { reportProblems } from './report-problems.ts';
import type {
  Judging,
  Levels,
  Plot,
  PlotModel,
  ResponsePlots,
  Scale,
  Surroundings,
  TrendShape,
} from './response-plots.ts';
import { reportResponse } from './response-report.ts';
import { randomisationWeakness } from './trial-weaknesses.ts';

/** A table with one row a plot; what intake hands over fits. */
export interface PlotTableInput {
  readonly file: string;
  readonly treatmentHeading: string;
  readonly blockHeading: string | null;
  /** Row in the file of each plot. */
  readonly row: readonly number[];
  readonly treatment: readonly string[];
  readonly block: readonly (string | null)[];
  readonly responses: readonly {
    readonly name: string;
    readonly unit: string | null;
    readonly origin: number;
    /** value - origin; null: lost plot. */
    readonly deviations: readonly (number | null)[];
  }[];
  /** Of a Latin square. */
  readonly rows?: TableLevels | null;
  readonly columns?: TableLevels | null;
  /** Two, whose combinations are the treatments; absent or empty: none. */
  readonly factors?: readonly TableLevels[];
  readonly covariate?: TableNumbers | null;
  /** Places across the field. */
  readonly trend?: TableNumbers | null;
}

export interface NamedWeight {
  readonly treatment: string;
  readonly weight: number;
}

/** A further column, one entry a plot. */
interface TableLevels {
  readonly heading: string;
  readonly levels: readonly string[];
}

interface TableNumbers {
  readonly heading: string;
  readonly values: readonly (number | null)[];
}

export interface TableReportInput {
  readonly table: PlotTableInput;
  /** As the user says it; null: numbers as they stand. */
  readonly unit: string | null;
  /** A treatment as it is called in the table; null: all pairs. */
  readonly check: string | null;
  readonly alpha: number;
  /** Absent: more is better. */
  readonly better?: 'higher' | 'lower';
  readonly decidedBy?: DecidingProcedure;
  /** LSD decides only after a significant F. */
  readonly protectedLsd?: boolean;
  readonly comparisons?: Inference['comparisons'];
  readonly namedPairs?: readonly (readonly [string, string])[];
  /** In the unit of the response; null or absent: none was set. */
  readonly margin?: number | null;
  /** Were treatments put on plots by chance? null or absent: not said. */
  readonly randomised?: boolean | null;
  /** The first of two factors lies on main plots, the second on sub-plots inside them. */
  readonly splitPlot?: boolean;
  /** Of the trend across the field; absent: linear. */
  readonly trendShape?: TrendShape;
  /** null or absent: as measured. */
  readonly scale?: Scale | null;
  /** Weights of treatments by name; each list adds up to zero. */
  readonly contrasts?: readonly (readonly NamedWeight[])[];
  /** Treatments are rates, named by their number. */
  readonly rates?: boolean;
  readonly madeBy: string;
  readonly files: ReportTrial['files'];
  readonly problems: readonly Problem[];
}

/**
 * The report of a table of plots. Treatments and blocks stand in the order in which they first appear; numbers stay
 * as they are, with their origin kept apart so that no digit is lost. A check that is no treatment of the table stops
 * the analysis: it is a slip that would change every comparison.
 */
export function reportFromPlotTable(input: TableReportInput): ReportModel {
  const { table } = input;
  const treatments = [...new Set(table.treatment)];
  const unknown = [...unknownTreatments(input, treatments), ...unfitContrasts(input, treatments)];
  const reported =
    unknown.length > 0 ? [] : responsesOf(input, treatments).map((response) => reportOf(response, input));
  const own = reported.flatMap(({ problems }) => problems);
  const placed = own.map((one) => ({ ...one, file: table.file }));
  return {
    version: REPORT_VERSION,
    madeBy: input.madeBy,
    trial: tableTrial(input),
    problems: reportProblems([...input.problems, ...unknown, ...placed]),
    strips: plotRows(input),
    responses: reported.map(({ report }) => report),
    weighed: null,
  };
}

function reportOf(response: ResponsePlots, input: TableReportInput) {
  return reportResponse(response, judgingOf(input, response.treatments), surroundingsOf(input));
}

function responsesOf(input: TableReportInput, treatments: readonly string[]): ResponsePlots[] {
  const { table, unit, better } = input;
  const model = modelOf(input);
  const own = plotColumns(table);
  const blocks = table.blockHeading === null ? null : [...new Set(table.block)].filter((b) => b !== null);
  const treatmentLevel = new Map(treatments.map((name, level) => [name, level]));
  const blockLevel = new Map((blocks ?? []).map((name, level) => [name, level]));
  return table.responses.map((response) => ({
    name: response.name,
    unit,
    better: better ?? 'higher',
    treatments,
    blocks,
    origin: response.origin,
    plots: response.deviations.map((deviation, plot) => ({
      treatment: treatmentLevel.get(table.treatment[plot] ?? '') ?? 0,
      block: blockLevel.get(table.block[plot] ?? '') ?? null,
      deviation,
      label: rowLabel(table, plot),
      ...own(plot),
    })),
    model,
    contrasts: (input.contrasts ?? []).map((own) => balanced(treatments.map((name) => weightOf(own, name)))),
    followsRate: input.rates ?? false,
  }));
}

function modelOf({ table, splitPlot, trendShape, scale }: TableReportInput): PlotModel {
  const { rows, columns, factors = [], covariate, trend } = table;
  const [a, b] = factors;
  return {
    square: rows && columns ? { rows: levelsOf(rows), columns: levelsOf(columns) } : null,
    factors: a && b ? { a: levelsOf(a), b: levelsOf(b), split: splitPlot ?? false } : null,
    covariate: covariate?.heading ?? null,
    machine: null,
    trend: trend ? { heading: trend.heading, shape: trendShape ?? 'linear' } : null,
    scale: scale ?? null,
  };
}

/** Levels stand in the order in which they first appear. */
function levelsOf({ heading, levels }: TableLevels): Levels {
  return { heading, names: [...new Set(levels)] };
}

/** What a plot has beside treatment, block and value. */
function plotColumns({ rows, columns, factors = [], covariate, trend }: PlotTableInput) {
  const level = (column: TableLevels | null | undefined) => {
    const names = column ? levelsOf(column).names : [];
    const index = new Map(names.map((name, own) => [name, own]));
    return (plot: number) => index.get(column?.levels[plot] ?? '') ?? 0;
  };
  const [row, across, a, b] = [level(rows), level(columns), level(factors[0]), level(factors[1])];
  return (plot: number): Partial<Plot> => ({
    ...(rows && columns ? { row: row(plot), column: across(plot) } : {}),
    ...(factors.length === 2 ? { factorA: a(plot), factorB: b(plot) } : {}),
    ...(covariate ? { covariate: covariate.values[plot] ?? null } : {}),
    ...(trend ? { place: trend.values[plot] ?? null } : {}),
  });
}

function judgingOf(input: TableReportInput, treatments: readonly string[]): Judging {
  const check = input.check === null ? -1 : treatments.indexOf(input.check);
  return {
    alpha: input.alpha,
    decidedBy: decidedByOf(input),
    comparisons: input.comparisons ?? 'auto',
    namedPairs: (input.namedPairs ?? []).map(([a, b]) => [treatments.indexOf(a), treatments.indexOf(b)]),
    check: check < 0 ? null : check,
    checkLevel: check < 0 ? input.check : null,
    margin: input.margin ?? null,
  };
}

function decidedByOf({ decidedBy, protectedLsd }: TableReportInput): DecidingProcedure {
  if (protectedLsd !== true) return decidedBy ?? 'auto';
  return decidedBy === undefined || decidedBy === 'auto' || decidedBy === 'lsd' ? 'protectedLsd' : decidedBy;
}

function surroundingsOf({ table, randomised }: TableReportInput): Surroundings {
  return {
    treatmentHeading: table.treatmentHeading,
    blockHeading: table.blockHeading,
    weakens: randomisationWeakness(randomised ?? null),
    setAsideShares: [],
    money: null,
    whyNoMoney: NO_MONEY_IN_TABLE,
  };
}

function unknownTreatments(input: TableReportInput, treatments: readonly string[]): Problem[] {
  const named = [input.check, ...(input.namedPairs ?? []).flat()].filter((name) => name !== null);
  const levels = input.splitPlot ? (input.table.factors ?? []).flatMap((factor) => factor.levels) : [];
  return [...new Set(named)]
    .filter((name) => !treatments.includes(name) && !levels.includes(name))
    .map((name) =>
      problem(
        'error',
        name === input.check ? 'checkNotFound' : 'treatmentNotFound',
        { file: input.table.file, column: input.table.treatmentHeading },
        { check: name, treatment: name, treatments },
      ),
    );
}

/** A treatment named twice has both weights. */
function weightOf(weights: readonly NamedWeight[], name: string): number {
  return weights.reduce((sum, { treatment, weight }) => (treatment === name ? sum + weight : sum), 0);
}

function unfitContrasts(
  { contrasts = [], table }: TableReportInput,
  treatments: readonly string[],
): Problem[] {
  const place = { file: table.file, column: table.treatmentHeading };
  return contrasts.flatMap((own) => {
    const unknown = own.find(({ treatment }) => !treatments.includes(treatment));
    if (unknown !== undefined)
      return [problem('error', 'treatmentNotFound', place, { treatment: unknown.treatment, treatments })];
    const sum = own.reduce((total, { weight }) => total + weight, 0);
    if (sumsToZero(own.map(({ weight }) => weight))) return [];
    return [problem('error', 'contrastNotZero', place, { sum, contrast: contrastText(own) })];
  });
}

function contrastText(weights: readonly NamedWeight[]): string {
  return weights.map(({ treatment, weight }) => `${treatment}=${weight}`).join('; ');
}

function tableTrial(input: TableReportInput): ReportTrial {
  const { table, check, unit, alpha } = input;
  const settings = {
    'inference.alpha': alpha,
    'inference.decidedBy': decidedByOf(input),
    'inference.comparisons': input.comparisons ?? 'auto',
    'table.treatment': table.treatmentHeading,
    'table.block': table.blockHeading,
    'table.responses': table.responses.map(({ name }) => name),
    'table.unit': unit,
    'table.check': check,
    'table.better': input.better ?? 'higher',
    'table.margin': input.margin ?? null,
    'table.namedPairs': input.namedPairs ?? [],
    ...designSettings(input),
  };
  return {
    name: table.file,
    crop: null,
    design: tableDesign(input),
    unitSystem: null,
    files: input.files,
    settings: Object.fromEntries(Object.entries(settings).map(([key, own]) => [key, JSON.stringify(own)])),
    assumptions: [],
    changedAfterSeeing: [],
  };
}

function rowLabel(table: PlotTableInput, plot: number): string {
  return `row ${table.row[plot] ?? plot + 1}`;
}

/** Only what was asked for. */
function designSettings(input: TableReportInput): Record<string, unknown> {
  const { table, splitPlot, trendShape, scale, contrasts = [], rates } = input;
  const { rows, columns, factors = [], covariate, trend } = table;
  return {
    ...(rows && columns ? { 'table.row': rows.heading, 'table.column': columns.heading } : {}),
    ...(factors.length > 0 ? { 'table.factors': factors.map(({ heading }) => heading) } : {}),
    ...(splitPlot ? { 'table.splitPlot': true } : {}),
    ...(covariate ? { 'table.covariate': covariate.heading } : {}),
    ...(trend ? { 'table.trend': trend.heading, 'table.trendShape': trendShape ?? 'linear' } : {}),
    ...(scale ? { 'table.scale': scale } : {}),
    ...(contrasts.length > 0 ? { 'table.contrasts': contrasts.map(contrastText) } : {}),
    ...(rates ? { 'table.rates': true } : {}),
  };
}

function tableDesign({ table, splitPlot }: TableReportInput): ReportTrial['design'] {
  if (table.rows && table.columns) return 'latinSquare';
  if (splitPlot) return 'splitPlot';
  return table.blockHeading === null ? 'completelyRandomized' : 'randomizedCompleteBlocks';
}

/** A row a plot; lengths, areas and points are not known from a table. */
function plotRows({ table, unit }: TableReportInput): ReportStrip[] {
  return table.treatment.map((treatment, plot) => {
    const values = table.responses.map(({ name, origin, deviations }) => {
      const deviation = deviations[plot] ?? null;
      return { response: name, value: deviation === null ? null : origin + deviation, unit };
    });
    const used = values.some(({ value }) => value !== null);
    return {
      strip: rowLabel(table, plot),
      block: table.block[plot] ?? null,
      treatment,
      place: table.trend?.values[plot] ?? null,
      areaM2: null,
      harvestedAreaM2: null,
      values,
      pointsRead: null,
      pointsKept: null,
      pointsSetAside: {},
      subSamples: null,
      cvWithinPercent: null,
      used,
      whyNotUsed: used ? null : notUsedBecause('noValue', null),
    };
  });
}
