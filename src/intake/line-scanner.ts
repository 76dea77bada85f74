import { decodeCell } from './decode-text.ts';
import type { NumberColumnBuilder } from './number-column.ts';
import { type Cursor, quickNumber } from './quick-number.ts';

const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;
const TAB = 9;
const LONGEST_CELL = 1000;
const LEFT_OUT = -1;

export interface LineForm {
  readonly separator: number;
  /** Cells that a line should have. */
  readonly expected: number;
  /** Number of the first line that holds data. */
  readonly firstRow: number;
  /** Lines to make room for at the start. */
  readonly capacity: number;
}

export interface NumberCells {
  readonly column: number;
  readonly builder: NumberColumnBuilder;
  /** Decimal mark. */
  readonly mark: number;
}

export interface TextCells {
  readonly column: number;
  readonly texts: string[];
}

interface LineTally {
  count: number;
  row: number;
  cells: number;
}

/** A cell of the line at hand that is not a plain number, as places in the bytes. */
interface OddCell {
  slot: number;
  from: number;
  to: number;
}

/** Takes the wanted columns out of lines, one pass over their bytes. A line counts once all of it was seen. */
export class LineScanner {
  readonly expected: number;
  readonly firstRow: number;
  readonly numbers: readonly NumberCells[];
  readonly texts: readonly TextCells[];
  readonly short: LineTally = { count: 0, row: 0, cells: 0 };
  readonly long: LineTally = { count: 0, row: 0, cells: 0 };
  cutOffRow: number | null = null;
  count = 0;
  /** Line in the file of each row taken. */
  rowNumbers: Int32Array;
  readonly #separator: number;
  /** By column: place in `numbers`, or behind those in `texts`. */
  readonly #slots: Int32Array;
  readonly #odd: readonly OddCell[];
  readonly #cursor: Cursor = { at: 0 };
  #oddCount = 0;
  #row: number;
  #capacity: number;

  constructor(form: LineForm, numbers: readonly NumberCells[], texts: readonly TextCells[]) {
    this.expected = form.expected;
    this.firstRow = form.firstRow;
    this.numbers = numbers;
    this.texts = texts;
    this.rowNumbers = new Int32Array(form.capacity);
    this.#separator = form.separator;
    this.#slots = new Int32Array(form.expected).fill(LEFT_OUT);
    [...numbers, ...texts].forEach(({ column }, slot) => {
      this.#slots[column] = slot;
    });
    this.#odd = [...numbers, ...texts].map(() => ({ slot: 0, from: 0, to: 0 }));
    this.#row = form.firstRow;
    this.#capacity = form.capacity;
  }

  /** Lines from one place to another; the last needs no line feed where the file ends there. */
  scan(bytes: Uint8Array, start: number, end: number): void {
    const closed = bytes.lastIndexOf(LINE_FEED, end - 1) + 1;
    let at = start;
    while (at < closed) at = this.#line(bytes, at, false);
    if (closed < end) this.#line(withLineFeed(bytes.subarray(Math.max(start, closed), end)), 0, true);
  }

  /** One line; gives the place behind its line feed. */
  #line(bytes: Uint8Array, start: number, endsWithFile: boolean): number {
    if (this.count === this.#capacity) this.#makeRoom();
    const cursor = this.#cursor;
    const separator = this.#separator;
    const slots = this.#slots;
    const numberSlots = this.numbers.length;
    this.#oddCount = 0;
    cursor.at = start;
    let cells = 0;
    let plain = 0;
    for (; ; cursor.at += 1) {
      const slot = cells < slots.length ? slots[cells]! : LEFT_OUT;
      cells += 1;
      if (slot >= 0 && slot < numberSlots && this.#takesNumber(bytes, slot)) plain += 1;
      else this.#passCell(bytes, slot);
      if (bytes[cursor.at] !== separator) break;
    }
    const end = cursor.at;
    if (plain > 0 || isFilled(bytes, start, end, separator)) {
      this.#takeLine(bytes, start, end, cells, endsWithFile);
    }
    this.#row += 1;
    return end + 1;
  }

  /** Writes the number at the cursor where it is a plain one; a line that does not count is written over. */
  #takesNumber(bytes: Uint8Array, slot: number): boolean {
    const { builder, mark } = this.numbers[slot]!;
    const value = quickNumber(bytes, this.#cursor, mark, this.#separator);
    if (Number.isNaN(value)) return false;
    builder.values[this.count] = value;
    return true;
  }

  /** To the end of the cell, which is noted where it is wanted. */
  #passCell(bytes: Uint8Array, slot: number): void {
    const cursor = this.#cursor;
    const from = cursor.at;
    let at = from;
    for (let byte = bytes[at]!; byte !== this.#separator && byte !== LINE_FEED; byte = bytes[at]!) at += 1;
    cursor.at = at;
    if (slot === LEFT_OUT) return;
    const odd = this.#odd[this.#oddCount]!;
    this.#oddCount += 1;
    odd.slot = slot;
    odd.from = from;
    odd.to = bytes[at] === LINE_FEED && at > from && bytes[at - 1] === CARRIAGE_RETURN ? at - 1 : at;
  }

  #takeLine(bytes: Uint8Array, start: number, end: number, cells: number, endsWithFile: boolean): void {
    const row = this.#row;
    if (cells < this.expected) {
      if (endsWithFile && this.short.count === 0 && this.count > 0) {
        this.cutOffRow = row;
        return;
      }
      tally(this.short, row, cells);
    }
    const isLong = cells > this.expected && this.#isFilledBeyond(bytes, start, end);
    if (isLong) tally(this.long, row, cells);
    this.rowNumbers[this.count] = row;
    if (isLong) this.#putBlanks(0);
    else {
      for (let k = 0; k < this.#oddCount; k += 1) this.#putOdd(bytes, this.#odd[k]!);
      if (cells < this.expected) this.#putBlanks(cells);
    }
    this.count += 1;
  }

  #putOdd(bytes: Uint8Array, { slot, from, to }: OddCell): void {
    const text = from === to ? '' : textOf(bytes, from, to);
    const number = this.numbers[slot];
    if (number !== undefined) number.builder.put(this.count, text);
    else this.#putText(this.texts[slot - this.numbers.length]!, text);
  }

  /** States and the like repeat from row to row: one text serves them all. */
  #putText({ texts }: TextCells, text: string): void {
    const before = texts[texts.length - 1];
    texts.push(before === text ? before : text);
  }

  /** In every wanted column from this one on. */
  #putBlanks(fromColumn: number): void {
    for (const { column, builder } of this.numbers) if (column >= fromColumn) builder.put(this.count, '');
    for (const cells of this.texts) if (cells.column >= fromColumn) this.#putText(cells, '');
  }

  #isFilledBeyond(bytes: Uint8Array, start: number, end: number): boolean {
    let cells = 0;
    for (let at = start; at < end; at += 1) {
      if (bytes[at] !== this.#separator) continue;
      cells += 1;
      if (cells === this.expected) return isFilled(bytes, at, end, this.#separator);
    }
    return false;
  }

  #makeRoom(): void {
    this.#capacity = Math.ceil(this.#capacity * 1.25) + 1;
    for (const { builder } of this.numbers) builder.reserve(this.#capacity);
    const wider = new Int32Array(this.#capacity);
    wider.set(this.rowNumbers);
    this.rowNumbers = wider;
  }
}

function withLineFeed(line: Uint8Array): Uint8Array {
  const closed = new Uint8Array(line.length + 1);
  closed.set(line);
  closed[line.length] = LINE_FEED;
  return closed;
}

function isFilled(bytes: Uint8Array, from: number, to: number, separator: number): boolean {
  for (let at = from; at < to; at += 1) {
    const byte = bytes[at];
    const isLineEnd = byte === CARRIAGE_RETURN && at === to - 1;
    if (byte !== SPACE && byte !== TAB && byte !== separator && !isLineEnd) return true;
  }
  return false;
}

function tally(of: LineTally, row: number, cells: number): void {
  if (of.count === 0) {
    of.row = row;
    of.cells = cells;
  }
  of.count += 1;
}

function textOf(bytes: Uint8Array, from: number, to: number): string {
  return decodeCell(bytes.subarray(from, Math.min(to, from + LONGEST_CELL)));
}
