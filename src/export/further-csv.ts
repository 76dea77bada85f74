import type { ReportModel } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import { furtherSections } from './further-sections.ts';
import type { ReportTable } from './report-table.ts';

/** Further results in long form, one figure a row, since each of them has columns of its own. */
export function furtherTable(report: ReportModel): ReportTable {
  return {
    name: 'further results',
    headings: ['response', 'result', 'item', 'figure', 'value', 'text'],
    rows: report.responses.flatMap((response) =>
      furtherSections(response).flatMap(({ title, meaning, columns, rows }) => [
        ...(meaning === null ? [] : [[response.name, title, null, 'meaning', null, meaning]]),
        ...rows.flatMap(([item, ...rest]) =>
          rest.map((value, k) => {
            const figure = columns[k + 1]?.heading ?? '';
            const isNumber = typeof value === 'number';
            return [
              response.name,
              title,
              item ?? null,
              figure,
              isNumber ? value : null,
              isNumber ? null : value,
            ];
          }),
        ),
      ]),
    ),
  };
}

export function furtherCsv(report: ReportModel): string {
  return csvText(furtherTable(report));
}
