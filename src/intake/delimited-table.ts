/// <reference path="./papaparse.d.ts" />
import Papa from 'papaparse';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type DecimalReading, readDecimal, readingOf } from './decimal-number.ts';
import { decodeText } from './decode-text.ts';
import { headingLine, withoutCommentMark } from './heading-line.ts';
import { intakeProblem } from './problem-codes.ts';
import {
  cellsThatDiffer,
  LINES_LOOKED_AT,
  type SeparatedText,
  type Separator,
  separatedText,
} from './separator.ts';
import { unitsBelow } from './unit-row.ts';

/** A delimited text as it stood in the file: one list of cells a row, untrimmed, blank lines left out. */
export interface DelimitedTable {
  readonly file: string | null;
  /** Line of the headings: 1 unless blank lines, comments or titles stand before them. */
  readonly headingRow: number;
  /** First line beneath the headings, and beneath a row of units if there is one. */
  readonly bodyRow: number;
  /** Trimmed; unique (a repeated one carries a number), so that a heading names one column. */
  readonly headings: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Line on which each row begins, the first line of the file being 1. */
  readonly rowNumbers: readonly number[];
  /** Which rows have more filled cells than there are headings, as indices into `rows`. */
  readonly tooLong: readonly number[];
  readonly separator: Separator;
  readonly decimals: DecimalReading;
}

/**
 * RFC 4180 text with commas, semicolons, tabs, bars or plain runs of spaces. Problems stop it only where no table
 * can be told.
 */
export function readDelimited(bytes: Uint8Array, file: string | null): Outcome<DelimitedTable> {
  const notOne = bytes.length > HEAD_BYTES ? headIsNoTable(bytes, file) : null;
  if (notOne !== null) return notOne;
  if (bytes.length > LARGEST_BYTES) {
    const details = { megabytes: Math.round(bytes.length / 1e6), limit: LARGEST_BYTES / 1e6 };
    return failure(intakeProblem('fileTooLarge', { file }, details));
  }
  const decoded = decodeText(bytes, file);
  if (!decoded.ok) return decoded;
  const table = tableOfText(decoded.value, file);
  return { ...table, problems: [...decoded.problems, ...table.problems] };
}

const HEAD_BYTES = 64 * 1024;
/** A table of texts takes many times its size in memory; plain yield logs are scanned and know no such limit. */
const LARGEST_BYTES = 120e6;

/** A large file of another kind is refused by its beginning. */
function headIsNoTable(bytes: Uint8Array, file: string | null): Outcome<never> | null {
  const head = decodeText(bytes.subarray(0, HEAD_BYTES), file);
  if (!head.ok) return head;
  const text = withPlainLineEnds(head.value);
  if (text.trim() === '' || /^sep=/.test(text)) return null;
  return separatedText(text) === null ? failure(noTable(text, file)) : null;
}

const SEPARATORS: Readonly<Record<string, string>> = { '\t': 'tabs', '|': 'bars', ';': 'semicolons' };

function noTable(text: string, file: string | null): Problem {
  const differ = cellsThatDiffer(text);
  if (differ === null) return intakeProblem('notATable', { file }, {});
  const { headings, cells } = differ;
  const separator = SEPARATORS[differ.separator] ?? 'commas';
  return intakeProblem('headingsAndRowsDiffer', { file }, { separator, headings, cells });
}

export function tableOfText(original: string, file: string | null): Outcome<DelimitedTable> {
  const text = withPlainLineEnds(original);
  if (text.trim() === '') return failure(intakeProblem('emptyFile', { file }, {}));
  const hint = /^sep=([,;\t|])\n/.exec(text);
  const separated = hint === null ? separatedText(text) : byHint(text.slice(hint[0].length), hint[1] ?? ',');
  if (separated === null) return failure(noTable(text, file));
  const { body, separator, delimiter } = separated;
  const parsed = Papa.parse(body, { delimiter, newline: '\n' });
  const lines = numberedLines(parsed.data, hint === null ? 1 : 2);
  const broken = unclosedQuote(parsed.errors, parsed.data, lines, file);
  if (broken !== null && broken.severity === 'error') return failure(broken);
  const whole = broken === null ? lines : lines.slice(0, -1);
  const outcome = tableOfLines(whole, separator, body.endsWith('\n'), file);
  return broken === null ? outcome : { ...outcome, problems: [...outcome.problems, broken] };
}

const WRITTEN_WITH_POINTS: DecimalReading = { mark: '.', proven: true };

/** A table from another format that knows its headings; the rows count from 1. */
export function tableOfCells(
  written: readonly string[],
  rows: readonly (readonly string[])[],
  file: string,
): Outcome<DelimitedTable> {
  const remarks: Problem[] = [];
  const headings = uniqueHeadings(written, file, remarks);
  const rowNumbers = rows.map((_, index) => index + 1);
  const shape = { file, headingRow: 0, bodyRow: 1, headings, rows, rowNumbers, tooLong: [] };
  return success({ ...shape, separator: ',', decimals: WRITTEN_WITH_POINTS }, remarks);
}

/** A sheet of cells, in which headings, titles and a row of units are found as in a text. */
export function tableOfSheet(rows: readonly (readonly string[])[], file: string): Outcome<DelimitedTable> {
  const lines = rows
    .map((cells, index) => ({ cells, number: index + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  const start = headingLine(lines.slice(0, LINES_LOOKED_AT).map(({ cells }) => cells));
  const width = withoutBlankTail(lines[start.index]?.cells ?? []).length;
  if (lines.length > 0 && width < 2) return failure(intakeProblem('notATable', { file }, {}));
  const table = tableOfLines(lines, '\t', true, file);
  return table.ok ? { ...table, value: { ...table.value, decimals: WRITTEN_WITH_POINTS } } : table;
}

function byHint(body: string, separator: string): SeparatedText {
  return { body, separator: separator as Separator, delimiter: separator };
}

interface Line {
  readonly cells: readonly string[];
  readonly number: number;
}

function withPlainLineEnds(text: string): string {
  const unmarked = text.startsWith('\uFEFF') ? text.slice(1) : text;
  return unmarked.includes('\r') ? unmarked.replace(/\r\n?/g, '\n') : unmarked;
}

function numberedLines(data: readonly (readonly string[])[], first: number): Line[] {
  const lines: Line[] = [];
  let number = first;
  for (const cells of data) {
    if (cells.some((cell) => cell.trim() !== '')) lines.push({ cells, number });
    number += 1;
    for (const cell of cells) if (cell.includes('\n')) number += cell.split('\n').length - 1;
  }
  return lines;
}

/** A quote left open on the last line is a cut-off file; anywhere before, it swallowed rows. */
function unclosedQuote(
  errors: readonly { readonly code: string }[],
  data: readonly (readonly string[])[],
  lines: readonly Line[],
  file: string | null,
): Problem | null {
  if (!errors.some(({ code }) => code === 'MissingQuotes')) return null;
  const row = lines.at(-1)?.number ?? 1;
  const swallowed = data.at(-1)?.some((cell) => cell.trimEnd().includes('\n')) ?? false;
  const cutOff = !swallowed && lines.length > 2;
  return intakeProblem(cutOff ? 'lastLineCutOff' : 'unclosedQuote', { file, row }, {});
}

function tableOfLines(
  lines: readonly Line[],
  separator: Separator,
  endsWithLineEnd: boolean,
  file: string | null,
): Outcome<DelimitedTable> {
  const start = headingLine(lines.slice(0, LINES_LOOKED_AT).map(({ cells }) => cells));
  const [first, ...rest] = lines.slice(start.index);
  if (first === undefined) return failure(intakeProblem('emptyFile', { file }, {}));
  const cells = start.inComment ? withoutCommentMark(first.cells) : first.cells;
  const written = namedOrFilled(cells, rest).map((cell) => cell.trim());
  const fault = headingFault(written, rest.length, first.number, file);
  if (fault !== null) return failure(fault);
  const remarks: Problem[] = [...linesAbove(lines.slice(0, start.index), file)];
  const units = rowOfUnits(written, rest, file);
  remarks.push(...(units?.problems ?? []));
  const headings = uniqueHeadings(units?.headings ?? written, file, remarks);
  remarks.push(...unnamedColumns(headings, rest, file));
  const unread = units === null ? rest : rest.slice(1);
  const body = withoutCutOffLine(unread, headings.length, endsWithLineEnd, file, remarks);
  const tooLong = raggedRows(body, headings.length, file, remarks);
  const rows = body.map(({ cells }) => cells);
  return success(
    {
      file,
      headingRow: first.number,
      bodyRow: (units === null ? first.number : (rest[0]?.number ?? first.number)) + 1,
      headings,
      rows,
      rowNumbers: body.map(({ number }) => number),
      tooLong,
      separator,
      decimals: decimalsOfFile(rows, separator),
    },
    remarks,
  );
}

const LONGEST_LINE_SHOWN = 80;

function linesAbove(lines: readonly Line[], file: string | null): Problem[] {
  const [first] = lines;
  if (first === undefined) return [];
  const example = first.cells.join(' ').trim().slice(0, LONGEST_LINE_SHOWN);
  return [intakeProblem('linesAboveHeadings', { file, row: first.number }, { count: lines.length, example })];
}

function rowOfUnits(headings: readonly string[], rest: readonly Line[], file: string | null) {
  const [units, ...below] = rest;
  if (units === undefined || below.length === 0) return null;
  const rows = below.slice(0, LINES_LOOKED_AT).map(({ cells }) => cells);
  return unitsBelow(headings, units.cells, rows, { file, row: units.number });
}

function headingFault(
  headings: readonly string[],
  rows: number,
  row: number,
  file: string | null,
): Problem | null {
  if (isRowOfData(headings)) {
    return intakeProblem('noHeadings', { file, row }, { cells: headings.slice(0, 12) });
  }
  return rows === 0 ? intakeProblem('headerOnly', { file }, { headings }) : null;
}

const DATE_OR_CLOCK = /^\d{1,4}[-/.:]\d{1,2}[-/.:T\d\s]*(?:Z|[AaPp][Mm])?$/;

/** Numbers alone, or numbers and times: at least half of them numbers. */
function isRowOfData(cells: readonly string[]): boolean {
  const plain: DecimalReading = { mark: '.', proven: false };
  const words = cells.filter((cell) => readDecimal(cell, plain).kind === 'notANumber');
  return words.every((cell) => DATE_OR_CLOCK.test(cell.trim())) && words.length * 2 <= cells.length;
}

function withoutBlankTail(cells: readonly string[]): readonly string[] {
  const last = cells.findLastIndex((cell) => cell.trim() !== '');
  return cells.slice(0, last + 1);
}

/** Blank headings at the end count as columns where something stands beneath them. */
function namedOrFilled(cells: readonly string[], rows: readonly Line[]): readonly string[] {
  const named = withoutBlankTail(cells).length;
  if (named === 0 || named === cells.length) return cells.slice(0, named);
  const filled = rows
    .slice(0, LINES_LOOKED_AT)
    .reduce((most, row) => Math.max(most, withoutBlankTail(row.cells).length), named);
  return cells.slice(0, Math.min(filled, cells.length));
}

/** What stands under no heading is left out. */
function unnamedColumns(headings: readonly string[], rows: readonly Line[], file: string | null): Problem[] {
  const sample = rows.slice(0, LINES_LOOKED_AT);
  const columns = headings.flatMap((heading, index) => {
    const holds = heading === '' && sample.some(({ cells }) => (cells[index] ?? '').trim() !== '');
    return holds ? [String(index + 1)] : [];
  });
  if (columns.length === 0) return [];
  return [intakeProblem('columnsWithoutName', { file }, { columns, count: columns.length })];
}

function uniqueHeadings(written: readonly string[], file: string | null, remarks: Problem[]): string[] {
  const taken = new Set<string>(written);
  const seen = new Set<string>();
  return written.map((heading) => {
    if (heading === '' || !seen.has(heading)) {
      seen.add(heading);
      return heading;
    }
    let number = 2;
    while (taken.has(`${heading} (${number})`)) number += 1;
    const readAs = `${heading} (${number})`;
    taken.add(readAs);
    remarks.push(intakeProblem('headingTwice', { file, column: heading }, { readAs }));
    return readAs;
  });
}

function withoutCutOffLine(
  rows: readonly Line[],
  expected: number,
  endsWithLineEnd: boolean,
  file: string | null,
  remarks: Problem[],
): readonly Line[] {
  const last = rows.at(-1);
  const before = rows.slice(0, -1);
  if (endsWithLineEnd || last === undefined || before.length === 0 || last.cells.length >= expected)
    return rows;
  if (before.some(({ cells }) => cells.length < expected)) return rows;
  remarks.push(intakeProblem('lastLineCutOff', { file, row: last.number }, {}));
  return before;
}

function raggedRows(
  rows: readonly Line[],
  expected: number,
  file: string | null,
  remarks: Problem[],
): readonly number[] {
  const short = rows.filter(({ cells }) => cells.length < expected);
  const tooLong = rows.flatMap(({ cells }, index) =>
    cells.length > expected && withoutBlankTail(cells).length > expected ? [index] : [],
  );
  const firstShort = short[0];
  if (firstShort !== undefined) {
    const details = { cells: firstShort.cells.length, expected, count: short.length };
    remarks.push(intakeProblem('raggedRow', { file, row: firstShort.number }, details));
  }
  const firstLong = tooLong[0] === undefined ? undefined : rows[tooLong[0]];
  if (firstLong !== undefined) {
    const details = { cells: firstLong.cells.length, expected, count: tooLong.length };
    remarks.push(intakeProblem('rowTooLong', { file, row: firstLong.number }, details));
  }
  return tooLong;
}

const ROWS_FOR_DECIMALS = 200;

function decimalsOfFile(rows: readonly (readonly string[])[], separator: Separator): DecimalReading {
  const bySeparator: DecimalReading = { mark: separator === ';' ? ',' : '.', proven: false };
  return readingOf(rows.slice(0, ROWS_FOR_DECIMALS).flat(), bySeparator);
}

/** The cells of one column, blank where a row is too short. */
export function columnCells(table: DelimitedTable, columnIndex: number): string[] {
  return table.rows.map((cells) => cells[columnIndex] ?? '');
}
