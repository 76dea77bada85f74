import type { Problem } from '../trial/problem.ts';
import { numberWithUnit } from './cell-units.ts';
import { type DecimalReading, readDecimal } from './decimal-number.ts';
import type { KnownUnit } from './known-units.ts';
import { intakeProblem } from './problem-codes.ts';

/** Rows from which the decimal mark of a long column is told; both ways of reading points look at the same ones. */
export const ROWS_FOR_READING = 200;
const LONGEST_TEXT_SHOWN = 60;

/** A column of measured values as doubles: NaN where the cell is blank or could not be read. */
export interface NumberColumn {
  readonly values: Float64Array;
  readonly blank: CellTally;
  readonly unreadable: CellTally;
  /** Some of the unreadable cells are numbers whose decimal mark cannot be told. */
  readonly ambiguous: boolean;
  /** Units that stand behind numbers in the cells themselves, each with its first cell. */
  readonly units: readonly UnitInCells[];
}

export interface UnitInCells {
  readonly unit: KnownUnit;
  readonly first: number;
  readonly text: string;
}

export interface CellTally {
  readonly count: number;
  /** Index of the first such cell, -1 where there is none, and what stands in it. */
  readonly first: number;
  readonly text: string;
}

/** Gathers a column cell by cell, each row once. */
export class NumberColumnBuilder {
  values: Float64Array;
  private readonly reading: DecimalReading;
  private readonly blank = { count: 0, first: -1, text: '' };
  private readonly unreadable = { count: 0, first: -1, text: '' };
  private readonly units: UnitInCells[] = [];
  private ambiguous = false;

  constructor(length: number, reading: DecimalReading) {
    this.values = new Float64Array(length);
    this.reading = reading;
  }

  /** Makes room for so many rows. */
  reserve(length: number): void {
    if (length <= this.values.length) return;
    const wider = new Float64Array(length);
    wider.set(this.values);
    this.values = wider;
  }

  put(index: number, cell: string): void {
    const read = readDecimal(cell, this.reading);
    if (read.kind === 'number') {
      this.values[index] = Number(read.text);
      return;
    }
    if (read.kind === 'notANumber' && this.putWithUnit(index, cell)) return;
    this.values[index] = Number.NaN;
    if (read.kind === 'ambiguous') this.ambiguous = true;
    const tally = read.kind === 'lost' ? this.blank : this.unreadable;
    if (tally.count === 0) {
      tally.first = index;
      tally.text = cell.trim().slice(0, LONGEST_TEXT_SHOWN);
    }
    tally.count += 1;
  }

  private putWithUnit(index: number, cell: string): boolean {
    const read = numberWithUnit(cell, this.reading);
    if (read === null) return false;
    this.values[index] = Number(read.text);
    if (!this.units.some(({ unit }) => unit.name === read.unit.name)) {
      this.units.push({ unit: read.unit, first: index, text: cell.trim() });
    }
    return true;
  }

  column(length: number): NumberColumn {
    const { blank, unreadable, ambiguous, units } = this;
    return { values: this.values.subarray(0, length), blank, unreadable, ambiguous, units };
  }
}

export function numberColumn(cells: readonly string[], reading: DecimalReading): NumberColumn {
  const builder = new NumberColumnBuilder(cells.length, reading);
  cells.forEach((cell, index) => {
    builder.put(index, cell);
  });
  return builder.column(cells.length);
}

export interface NumberPlace {
  readonly file: string | null;
  readonly heading: string;
  readonly rowNumbers: ArrayLike<number>;
}

/** What a table says about a column that must be numeric: text in it stops the reading. */
export function faultsOfNumbers({ unreadable, ambiguous }: NumberColumn, at: NumberPlace): Problem[] {
  if (unreadable.count === 0) return [];
  const place = { file: at.file, column: at.heading, row: at.rowNumbers[unreadable.first] ?? null };
  const details = { text: unreadable.text, count: unreadable.count };
  return [intakeProblem(ambiguous ? 'ambiguousNumber' : 'notANumber', place, details)];
}

/** Counts the cells of which something holds, and keeps the first as the example to show. */
export function tallyOf(cells: readonly string[], holds: (index: number) => boolean): CellTally {
  let count = 0;
  let first = -1;
  for (let index = 0; index < cells.length; index += 1) {
    if (!holds(index)) continue;
    if (count === 0) first = index;
    count += 1;
  }
  return { count, first, text: (cells[first] ?? '').trim().slice(0, LONGEST_TEXT_SHOWN) };
}
