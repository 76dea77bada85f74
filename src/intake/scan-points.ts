import type { Problem } from '../trial/problem.ts';
import { readingOf } from './decimal-number.ts';
import { columnCells, type DelimitedTable } from './delimited-table.ts';
import { NumberColumnBuilder, ROWS_FOR_READING } from './number-column.ts';
import type { ColumnsWanted, PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { quickNumber } from './quick-number.ts';

const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;
const TAB = 9;

/**
 * Reads the wanted columns of a large file without quotes straight from its bytes, many times faster than by way
 * of a table of texts. `head` is the table of its first lines: headings, separator, decimal mark. The result is
 * the same as by way of a table, which a test holds.
 */
export function scanPoints(
  bytes: Uint8Array,
  file: string,
  head: DelimitedTable,
  wanted: ColumnsWanted,
): { readonly rows: PointRows; readonly problems: readonly Problem[] } {
  const scan = startScan(bytes, head, wanted);
  scanLines(bytes, startOfLine(bytes, head.bodyRow), head.bodyRow, scan);
  const problems = raggedProblems(scan, file);
  const numbers = new Map(scan.numbers.map(({ column, builder }) => [column, builder.column(scan.count)]));
  const texts = new Map(scan.texts.map(({ column, texts: cells }) => [column, cells]));
  const rows: PointRows = {
    file,
    headings: head.headings,
    count: scan.count,
    rowNumbers: scan.rowNumbers.slice(0, scan.count),
    numbers: (index) => must(numbers.get(index), index),
    texts: (index) => must(texts.get(index), index),
  };
  return { rows, problems };
}

interface Scan {
  readonly separator: number;
  readonly expected: number;
  readonly numbers: readonly { column: number; builder: NumberColumnBuilder; mark: number }[];
  readonly texts: readonly { column: number; texts: string[] }[];
  readonly rowNumbers: Int32Array;
  /** Ends of the cells of the line at hand; `cells` of them count. */
  ends: Int32Array;
  cells: number;
  count: number;
  readonly short: { count: number; row: number; cells: number };
  readonly long: { count: number; row: number; cells: number };
  cutOffRow: number | null;
}

function startScan(bytes: Uint8Array, head: DelimitedTable, wanted: ColumnsWanted): Scan {
  const most = countLines(bytes);
  const readingOfColumn = (column: number) =>
    readingOf(columnCells(head, column).slice(0, ROWS_FOR_READING), head.decimals);
  return {
    separator: head.separator.charCodeAt(0),
    expected: head.headings.length,
    numbers: wanted.numbers.map((column) => {
      const reading = readingOfColumn(column);
      return {
        column,
        builder: new NumberColumnBuilder(most, reading),
        mark: reading.mark.charCodeAt(0),
      };
    }),
    texts: wanted.texts.map((column) => ({ column, texts: [] })),
    rowNumbers: new Int32Array(most),
    ends: new Int32Array(256),
    cells: 0,
    count: 0,
    short: { count: 0, row: 0, cells: 0 },
    long: { count: 0, row: 0, cells: 0 },
    cutOffRow: null,
  };
}

function scanLines(bytes: Uint8Array, bodyStart: number, firstRow: number, scan: Scan): void {
  let row = firstRow;
  for (let start = bodyStart; start < bytes.length; row += 1) {
    const lineFeed = bytes.indexOf(LINE_FEED, start);
    const end = lineFeed < 0 ? bytes.length : lineFeed;
    const trimmed = end > start && bytes[end - 1] === CARRIAGE_RETURN ? end - 1 : end;
    splitLine(bytes, start, trimmed, scan);
    const filled = lastFilledCell(bytes, start, scan);
    if (filled >= 0) takeLine(bytes, start, row, filled, lineFeed < 0, scan);
    start = end + 1;
  }
}

function splitLine(bytes: Uint8Array, start: number, end: number, scan: Scan): void {
  const { separator } = scan;
  let cells = 0;
  for (let at = start; at <= end; at += 1) {
    if (at < end && bytes[at] !== separator) continue;
    if (cells === scan.ends.length) scan.ends = widened(scan.ends);
    scan.ends[cells] = at;
    cells += 1;
  }
  scan.cells = cells;
}

function widened(ends: Int32Array): Int32Array {
  const wider = new Int32Array(ends.length * 2);
  wider.set(ends);
  return wider;
}

/** Index of the last cell that holds more than spaces; -1: a blank line. */
function lastFilledCell(bytes: Uint8Array, start: number, scan: Scan): number {
  for (let cell = scan.cells - 1; cell >= 0; cell -= 1) {
    const from = cell === 0 ? start : (scan.ends[cell - 1] ?? 0) + 1;
    const to = scan.ends[cell] ?? 0;
    for (let at = from; at < to; at += 1) {
      const byte = bytes[at];
      if (byte !== SPACE && byte !== TAB) return cell;
    }
  }
  return -1;
}

function takeLine(
  bytes: Uint8Array,
  start: number,
  row: number,
  filled: number,
  endsWithFile: boolean,
  scan: Scan,
): void {
  if (scan.cells < scan.expected) {
    if (endsWithFile && scan.short.count === 0 && scan.count > 0) {
      scan.cutOffRow = row;
      return;
    }
    tally(scan.short, row, scan.cells);
  }
  const isLong = filled >= scan.expected;
  if (isLong) tally(scan.long, row, scan.cells);
  const index = scan.count;
  scan.rowNumbers[index] = row;
  for (const { column, builder, mark } of scan.numbers) {
    const from = isLong ? start : cellStart(scan, column, start);
    const to = isLong ? start : cellEnd(scan, column, start);
    const value = quickNumber(bytes, from, to, mark);
    if (Number.isNaN(value)) builder.put(index, textOf(bytes, from, to));
    else builder.values[index] = value;
  }
  for (const { column, texts } of scan.texts) {
    texts.push(isLong ? '' : textOf(bytes, cellStart(scan, column, start), cellEnd(scan, column, start)));
  }
  scan.count += 1;
}

function tally(of: { count: number; row: number; cells: number }, row: number, cells: number): void {
  if (of.count === 0) {
    of.row = row;
    of.cells = cells;
  }
  of.count += 1;
}

/** Where a cell begins; cells that a short row lacks are empty stretches at its start. */
function cellStart(scan: Scan, column: number, start: number): number {
  return column === 0 || column >= scan.cells ? start : (scan.ends[column - 1] ?? 0) + 1;
}

function cellEnd(scan: Scan, column: number, start: number): number {
  return column >= scan.cells ? start : (scan.ends[column] ?? 0);
}

const LONGEST_CELL = 1000;

/** Single-byte reading: enough for numbers, clock times and states, whatever the encoding of the headings. */
function textOf(bytes: Uint8Array, from: number, to: number): string {
  return from === to ? '' : String.fromCharCode(...bytes.subarray(from, Math.min(to, from + LONGEST_CELL)));
}

function raggedProblems(scan: Scan, file: string): Problem[] {
  const { short, long, expected } = scan;
  const problems: Problem[] = [];
  if (scan.cutOffRow !== null)
    problems.push(intakeProblem('lastLineCutOff', { file, row: scan.cutOffRow }, {}));
  if (short.count > 0) {
    const details = { cells: short.cells, expected, count: short.count };
    problems.push(intakeProblem('raggedRow', { file, row: short.row }, details));
  }
  if (long.count > 0) {
    const details = { cells: long.cells, expected, count: long.count };
    problems.push(intakeProblem('rowTooLong', { file, row: long.row }, details));
  }
  return problems;
}

function startOfLine(bytes: Uint8Array, line: number): number {
  let start = 0;
  for (let number = 1; number < line; number += 1) start = bytes.indexOf(LINE_FEED, start) + 1;
  return start;
}

function countLines(bytes: Uint8Array): number {
  let lines = 1;
  for (let at = bytes.indexOf(LINE_FEED); at >= 0; at = bytes.indexOf(LINE_FEED, at + 1)) lines += 1;
  return lines;
}

function must<T>(value: T | undefined, index: number): T {
  if (value === undefined) throw new Error(`column ${index} was not among the wanted ones`);
  return value;
}
