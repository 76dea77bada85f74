import type { ReportModel } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import type { ReportTable } from './report-table.ts';

/** Every pair under every procedure: difference is a - b. */
export function comparisonsTable(report: ReportModel): ReportTable {
  return {
    name: 'comparisons',
    headings: [
      'response',
      'unit',
      'a',
      'b',
      'procedure',
      'difference',
      'standard error',
      'df',
      't',
      'p',
      'p unadjusted',
      'lower',
      'upper',
    ],
    rows: report.responses.flatMap(({ name, unit, comparisons }) =>
      comparisons.map((row) => [
        name,
        unit,
        row.a,
        row.b,
        row.procedure,
        row.difference,
        row.standardError,
        row.df,
        row.t,
        row.p,
        row.pUnadjusted,
        row.lower,
        row.upper,
      ]),
    ),
  };
}

export function comparisonsCsv(report: ReportModel): string {
  return csvText(comparisonsTable(report));
}
