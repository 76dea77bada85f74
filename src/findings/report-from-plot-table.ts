import { type Problem, problem } from '../trial/problem.ts';
import type { DecidingProcedure, Inference } from '../trial/trial-document.ts';
import { NO_MONEY_IN_TABLE } from '../words/money-sentences.ts';
import { notUsedBecause } from '../words/strip-sentences.ts';
import { REPORT_VERSION, type ReportModel, type ReportStrip, type ReportTrial } from './report-model.ts';
import { reportProblems } from './report-problems.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';
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
  const unknown = unknownTreatments(input, treatments);
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
  };
}

function reportOf(response: ResponsePlots, input: TableReportInput) {
  return reportResponse(response, judgingOf(input, response.treatments), surroundingsOf(input));
}

function responsesOf(
  { table, unit, better }: TableReportInput,
  treatments: readonly string[],
): ResponsePlots[] {
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
    })),
  }));
}

function judgingOf(input: TableReportInput, treatments: readonly string[]): Judging {
  const check = input.check === null ? -1 : treatments.indexOf(input.check);
  return {
    alpha: input.alpha,
    decidedBy: decidedByOf(input),
    comparisons: input.comparisons ?? 'auto',
    namedPairs: (input.namedPairs ?? []).map(([a, b]) => [treatments.indexOf(a), treatments.indexOf(b)]),
    check: check < 0 ? null : check,
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
  return [...new Set(named)]
    .filter((name) => !treatments.includes(name))
    .map((name) =>
      problem(
        'error',
        name === input.check ? 'checkNotFound' : 'treatmentNotFound',
        { file: input.table.file, column: input.table.treatmentHeading },
        { check: name, treatment: name, treatments },
      ),
    );
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
  };
  return {
    name: table.file,
    crop: null,
    design: table.blockHeading === null ? 'completelyRandomized' : 'randomizedCompleteBlocks',
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
      place: null,
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
