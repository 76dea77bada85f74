import { reportFromPlotTable } from '../findings/report-from-plot-table.ts';
import type { ReportModel } from '../findings/report-model.ts';
import { wholeOf } from '../intake/file-bytes.ts';
import { type PlotTableOptions, readPlotTable } from '../intake/read-plot-table.ts';
import type { DecidingProcedure } from '../trial/trial-document.ts';
import { hashedFile } from './file-hashes.ts';
import type { InputFile } from './input-file.ts';
import { MADE_BY } from './made-by.ts';
import { reportOfProblems } from './report-of-problems.ts';

/** How a plain table of plots is to be read and judged. */
export interface TableQuestion extends PlotTableOptions {
  /** Unit of the responses as the user names it; null: numbers as they stand. */
  readonly unit: string | null;
  /** The treatment that the others are compared with; null: all pairs. */
  readonly check: string | null;
  /** null: the starting level. */
  readonly alpha: number | null;
  /** In the response's unit; null: nothing is called the same. */
  readonly margin: number | null;
  readonly better: 'higher' | 'lower';
  readonly compare: DecidingProcedure;
  /** The first of two factors lies on main plots. */
  readonly splitPlot?: boolean;
  readonly trendShape?: 'linear' | 'quadratic';
  readonly scale?: 'squareRoot' | 'log' | 'angular' | null;
  /** Weights of treatments by name, each list adding up to zero. */
  readonly contrasts?: readonly (readonly { readonly treatment: string; readonly weight: number }[])[];
  /** Treatments are rates, named by their number. */
  readonly rates?: boolean;
}

const STARTING_ALPHA = 0.05;

/** A table has neither a field to draw nor a trial document. */
export interface TableRun {
  readonly report: ReportModel;
  readonly field: null;
  readonly trial: null;
}

/** From a table with one row a plot to the report model; a fault leaves a report of problems. */
export function analyseTable(file: InputFile, question: TableQuestion): TableRun {
  const read = readPlotTable(wholeOf(file.bytes), file.name, question);
  if (!read.ok) return { report: reportOfProblems(read.problems, file.name), field: null, trial: null };
  const report = reportFromPlotTable({
    table: read.value,
    unit: question.unit,
    check: question.check,
    alpha: question.alpha ?? STARTING_ALPHA,
    margin: question.margin,
    better: question.better,
    decidedBy: question.compare,
    splitPlot: question.splitPlot ?? false,
    trendShape: question.trendShape ?? 'linear',
    scale: question.scale ?? null,
    contrasts: question.contrasts ?? [],
    rates: question.rates ?? false,
    madeBy: MADE_BY,
    files: [hashedFile(file, 'table')],
    problems: read.problems,
  });
  return { report, field: null, trial: null };
}
