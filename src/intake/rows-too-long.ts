import type { Problem } from '../trial/problem.ts';
import type { DelimitedTable } from './delimited-table.ts';
import { intakeProblem } from './problem-codes.ts';

/** In a table of plots every row counts, so one whose cells cannot be told apart stops the reading. */
export function rowsTooLong(table: DelimitedTable): Problem[] {
  const [index] = table.tooLong;
  if (index === undefined) return [];
  const place = { file: table.file, row: table.rowNumbers[index] ?? null };
  const details = {
    cells: table.rows[index]?.length ?? 0,
    expected: table.headings.length,
    count: table.tooLong.length,
  };
  return [intakeProblem('rowTooLong', place, details, 'error')];
}
