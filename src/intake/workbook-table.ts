/// <reference path="./file-readers.d.ts" />
import type { SheetCell } from 'read-excel-file/universal';
import { failure, type Outcome } from '../trial/problem.ts';
import { type DelimitedTable, tableOfSheet } from './delimited-table.ts';
import { intakeProblem } from './problem-codes.ts';
import { reasonOf } from './unpack-zip.ts';

const MOST_CELLS = 20e6;

/**
 * The first sheet of a workbook that holds something, as a table: numbers by their shortest decimal text, dates as
 * year-month-day hours:minutes:seconds. The row of a problem is the row of the sheet.
 */
export async function tableOfWorkbook(bytes: Uint8Array, file: string): Promise<Outcome<DelimitedTable>> {
  const { default: readWorkbook } = await import('read-excel-file/universal');
  try {
    const sheets = await readWorkbook(bytes.slice().buffer as ArrayBuffer);
    const filled = sheets.filter(({ data }) => data.some((row) => row.some((cell) => cellText(cell) !== '')));
    const [sheet, ...others] = filled;
    if (sheet === undefined) return failure(intakeProblem('emptyFile', { file }, {}));
    const cells = sheet.data.reduce((sum, { length }) => sum + length, 0);
    if (cells > MOST_CELLS) {
      const details = { megabytes: Math.round(bytes.length / 1e6), limit: MOST_CELLS / 1e6 };
      return failure(intakeProblem('fileTooLarge', { file }, details));
    }
    const table = tableOfSheet(
      sheet.data.map((row) => row.map(cellText)),
      file,
    );
    if (others.length === 0) return table;
    const details = { sheet: sheet.sheet, others: others.map((other) => other.sheet) };
    return { ...table, problems: [intakeProblem('firstSheetTaken', { file }, details), ...table.problems] };
  } catch (error) {
    return failure(intakeProblem('workbookDamaged', { file }, { reason: reasonOf(error) }));
  }
}

function cellText(cell: SheetCell | undefined): string {
  if (cell === null || cell === undefined) return '';
  if (!(cell instanceof Date)) return String(cell).trim();
  return Number.isNaN(cell.getTime()) ? '' : dateText(cell);
}

/** A sheet holds days as fractions, so that whole seconds come out some microseconds short. */
const ROUNDED_TO_MS = 10;

function dateText(date: Date): string {
  const rounded = new Date(Math.round(date.getTime() / ROUNDED_TO_MS) * ROUNDED_TO_MS);
  return rounded
    .toISOString()
    .replace('T', ' ')
    .replace(/(\.\d+?)0*Z$/, '$1')
    .replace(/(?: 00:00:00)?\.0$/, '');
}
