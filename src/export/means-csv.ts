import type { ReportModel } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import type { ReportTable } from './report-table.ts';

/** Means of every response, one row a treatment; a column of letters for each procedure that gives them. */
export function meansTable(report: ReportModel): ReportTable {
  const procedures = [
    ...new Set(report.responses.flatMap(({ means }) => means.flatMap(({ letters }) => Object.keys(letters)))),
  ];
  return {
    name: 'means',
    headings: [
      'response',
      'unit',
      'treatment',
      'n',
      'mean',
      'adjusted mean',
      'standard error',
      'lower',
      'upper',
      'level',
      ...procedures.map((procedure) => `letters: ${procedure}`),
    ],
    rows: report.responses.flatMap(({ name, unit, alpha, means }) =>
      means.map((mean) => [
        name,
        unit,
        mean.treatment,
        mean.n,
        mean.mean,
        mean.adjustedMean,
        mean.standardError,
        mean.lower,
        mean.upper,
        mean.lower === null ? null : 1 - alpha,
        ...procedures.map((procedure) => mean.letters[procedure] ?? null),
      ]),
    ),
  };
}

export function meansCsv(report: ReportModel): string {
  return csvText(meansTable(report));
}
