import type { Problem } from '../trial/problem.ts';
import { type DecimalReading, readDecimal, readingOf } from './decimal-number.ts';
import { intakeProblem } from './problem-codes.ts';

/** A column of measured values as doubles: NaN where the cell is blank or could not be read. */
export interface NumberColumn {
  readonly values: Float64Array;
  readonly blank: CellCount;
  readonly unreadable: CellCount;
  /** The decimal mark of these cells could not be told; `unreadable` then counts them. */
  readonly ambiguous: boolean;
}

export interface CellCount {
  readonly count: number;
  /** Index of the first such cell, -1 where there is none. */
  readonly first: number;
}

export function numberColumn(cells: readonly string[], ofFile: DecimalReading): NumberColumn {
  const reading = readingOf(cells, ofFile);
  const values = new Float64Array(cells.length).fill(Number.NaN);
  const blank = { count: 0, first: -1 };
  const unreadable = { count: 0, first: -1 };
  let ambiguous = false;
  cells.forEach((cell, index) => {
    const read = readDecimal(cell, reading);
    if (read.kind === 'number') {
      values[index] = Number(read.text);
      return;
    }
    if (read.kind === 'ambiguous') ambiguous = true;
    const tally = read.kind === 'lost' ? blank : unreadable;
    if (tally.count === 0) tally.first = index;
    tally.count += 1;
  });
  return { values, blank, unreadable, ambiguous };
}

export interface NamedColumn {
  readonly file: string | null;
  readonly heading: string;
  readonly cells: readonly string[];
  readonly rowNumbers: ArrayLike<number>;
}

/** What a table says about a column that must be numeric: text in it stops the reading. */
export function faultsOfNumbers(column: NumberColumn, at: NamedColumn): Problem[] {
  const { count, first } = column.unreadable;
  if (count === 0) return [];
  const place = { file: at.file, column: at.heading, row: at.rowNumbers[first] ?? null };
  const details = { text: (at.cells[first] ?? '').trim().slice(0, 60), count };
  return [intakeProblem(column.ambiguous ? 'ambiguousNumber' : 'notANumber', place, details)];
}
