import type { Problem } from '../trial/problem.ts';
import { mixedUnits } from './cell-units.ts';
import type { NumberColumn } from './number-column.ts';
import type { PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import type { RecognisedColumn } from './recognition.ts';

/** What is said of a numeric column of rows: text as a warning, blank cells as a note, units that differ. */
export function columnRemarks(read: NumberColumn, column: RecognisedColumn, rows: PointRows): Problem[] {
  const { unreadable, blank, ambiguous } = read;
  const at = (first: number) => ({
    file: rows.file,
    row: rows.rowNumbers[first] ?? null,
    column: column.heading,
  });
  const remarks: Problem[] = [];
  if (unreadable.count > 0) {
    const code = ambiguous ? 'ambiguousNumber' : 'textInNumberColumn';
    const details = { text: unreadable.text, count: unreadable.count };
    remarks.push(intakeProblem(code, at(unreadable.first), details));
  }
  if (blank.count > 0) {
    remarks.push(intakeProblem('blankCells', at(blank.first), { count: blank.count, of: rows.count }));
  }
  const place = { file: rows.file, heading: column.heading, rowNumbers: rows.rowNumbers };
  return [...remarks, ...mixedUnits(read, column.readAs, place)];
}

/** Rows of which at least one of these columns could not be read. */
export function unreadableRows(columns: readonly (Float64Array | null)[]): number {
  const gappy = columns.filter((column) => column !== null).filter(hasGaps);
  let count = 0;
  for (let index = 0; index < (gappy[0]?.length ?? 0); index += 1) {
    if (gappy.some((column) => Number.isNaN(column[index]))) count += 1;
  }
  return count;
}

export function hasGaps(column: Float64Array): boolean {
  for (let i = 0; i < column.length; i += 1) if (Number.isNaN(column[i])) return true;
  return false;
}
