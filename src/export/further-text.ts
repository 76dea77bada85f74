import type { ReportResponse } from '../findings/report-model.ts';
import { chanceText, decimalsFor, NO_NUMBER, pValue, signed, significant } from '../words/number-formats.ts';
import { type ColumnKind, type FurtherSection, furtherSections } from './further-sections.ts';
import { type TextColumn, textTable, wrapped } from './text-table.ts';

/** The further results of a response, each with its heading, its sentence and its table. */
export function furtherText(response: ReportResponse, width: number): readonly string[] {
  const decimals = decimalsFor(response.standardErrorOfDifference, response.grandMean);
  return furtherSections(response).flatMap((section) => ['', ...sectionText(section, decimals, width)]);
}

/** A section as text, its table with columns as they read. */
export function sectionText(
  { title, meaning, columns, rows }: FurtherSection,
  decimals: number,
  width: number,
): readonly string[] {
  const table = columns.map(
    ({ heading, kind }, index): TextColumn => ({
      heading,
      align: kind === 'text' ? 'left' : 'right',
      cells: rows.map((row) => shown(row[index] ?? null, kind, decimals)),
    }),
  );
  return [
    `${title}:`,
    ...(meaning === null ? [] : wrapped(meaning, width, '')),
    ...(columns.length === 0 ? [] : textTable(table)),
  ];
}

/** One figure of a further result as people read it. */
export function shown(value: string | number | null, kind: ColumnKind, decimals: number): string {
  if (value === null) return NO_NUMBER;
  if (typeof value === 'string') return value;
  if (kind === 'p') return pValue(value);
  if (kind === 'chance') return chanceText(value);
  if (kind === 'difference') return signed(value, decimals);
  return Number.isInteger(value) ? String(value) : significant(value, 4);
}
