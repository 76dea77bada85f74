import type { ReportModel } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import type { ReportTable } from './report-table.ts';

/** The analysis of variance of every response, one row a source. */
export function anovaTable(report: ReportModel): ReportTable {
  return {
    name: 'anova',
    headings: ['response', 'source', 'label', 'df', 'SS', 'MS', 'F', 'p'],
    rows: report.responses.flatMap(({ name, anova }) =>
      anova.map((row) => [name, row.source, row.label, row.df, row.ss, row.ms, row.f, row.p]),
    ),
  };
}

export function anovaCsv(report: ReportModel): string {
  return csvText(anovaTable(report));
}
