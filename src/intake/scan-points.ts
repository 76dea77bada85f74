import type { Problem } from '../trial/problem.ts';
import { readingOf } from './decimal-number.ts';
import { columnCells, type DelimitedTable } from './delimited-table.ts';
import { type FileBytes, sizeOf, stretchOf } from './file-bytes.ts';
import { LineScanner } from './line-scanner.ts';
import { NumberColumnBuilder, ROWS_FOR_READING } from './number-column.ts';
import type { ColumnsWanted, PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';

const LINE_FEED = 10;
const QUOTE = 34;
const STRETCH_BYTES = 1 << 20;

export interface ScannedPoints {
  readonly rows: PointRows;
  readonly problems: readonly Problem[];
}

/**
 * Reads the wanted columns of a large file without quotes straight from its bytes, a stretch at a time, many times
 * faster than by way of a table of texts. `head` is the table of its first `headBytes` bytes: headings, separator,
 * decimal mark. The result is the same as by way of a table, which a test holds. null where a quote or a zero byte
 * turns up after all, which only a table can read.
 */
export function scanPoints(
  bytes: FileBytes,
  file: string,
  head: DelimitedTable,
  headBytes: number,
  wanted: ColumnsWanted,
): ScannedPoints | null {
  const scanner = startScanner(bytes, head, headBytes, wanted);
  if (!scanStretches(bytes, scanner)) return null;
  const numbers = new Map(
    scanner.numbers.map(({ column, builder }) => [column, builder.column(scanner.count)]),
  );
  const texts = new Map(scanner.texts.map(({ column, texts: cells }) => [column, cells]));
  const rows: PointRows = {
    file,
    headings: head.headings,
    count: scanner.count,
    rowNumbers: scanner.rowNumbers.subarray(0, scanner.count),
    numbers: (index) => must(numbers.get(index), index),
    texts: (index) => must(texts.get(index), index),
  };
  return { rows, problems: raggedProblems(scanner, file) };
}

function startScanner(
  bytes: FileBytes,
  head: DelimitedTable,
  headBytes: number,
  wanted: ColumnsWanted,
): LineScanner {
  const capacity = Math.ceil((head.rows.length / headBytes) * sizeOf(bytes) * 1.02) + 1000;
  const readingOfColumn = (column: number) =>
    readingOf(columnCells(head, column).slice(0, ROWS_FOR_READING), head.decimals);
  return new LineScanner(
    {
      separator: head.separator.charCodeAt(0),
      expected: head.headings.length,
      firstRow: head.bodyRow,
      capacity,
    },
    wanted.numbers.map((column) => {
      const reading = readingOfColumn(column);
      const builder = new NumberColumnBuilder(capacity, reading);
      return { column, builder, mark: reading.mark.charCodeAt(0) };
    }),
    wanted.texts.map((column) => ({ column, texts: [] })),
  );
}

/** Whole lines at a time; a line longer than a stretch makes the stretch longer. false: not a plain text. */
function scanStretches(bytes: FileBytes, scanner: LineScanner): boolean {
  const size = sizeOf(bytes);
  let linesToSkip = scanner.firstRow - 1;
  let length = STRETCH_BYTES;
  for (let from = 0; from < size; ) {
    const stretch = stretchOf(bytes, from, from + length);
    const isLast = from + stretch.length >= size;
    const end = isLast ? stretch.length : stretch.lastIndexOf(LINE_FEED) + 1;
    if (end === 0) {
      length *= 2;
      continue;
    }
    if (stretch.includes(QUOTE) || stretch.includes(0)) return false;
    let start = 0;
    for (; linesToSkip > 0 && start < end; linesToSkip -= 1) start = nextLine(stretch, start, end);
    if (start < end) scanner.scan(stretch, start, end);
    from += end;
    length = STRETCH_BYTES;
  }
  return true;
}

function nextLine(stretch: Uint8Array, start: number, end: number): number {
  const lineFeed = stretch.indexOf(LINE_FEED, start);
  return lineFeed < 0 ? end : lineFeed + 1;
}

function raggedProblems({ short, long, expected, cutOffRow }: LineScanner, file: string): Problem[] {
  const problems: Problem[] = [];
  if (cutOffRow !== null) problems.push(intakeProblem('lastLineCutOff', { file, row: cutOffRow }, {}));
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

function must<T>(value: T | undefined, index: number): T {
  if (value === undefined) throw new Error(`column ${index} was not among the wanted ones`);
  return value;
}
