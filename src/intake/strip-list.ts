import { readPassList } from '../trial/pass-list.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { columnCells, type DelimitedTable } from './delimited-table.ts';
import type { LayoutFeature } from './geojson-polygons.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, recogniseColumns } from './recognise-columns.ts';
import { rowsTooLong } from './rows-too-long.ts';

/** The first few may also number the single passes of a table of weights. */
const PASS_WORDS = ['pass', 'passage', 'pasada', 'fahrt', 'passata'];
const PASSES_WORDS = ['passes', 'passages', 'pasadas', 'fahrten', 'passate'];
const PLACE_WORDS = [
  'place',
  'position',
  'order',
  'sequence',
  'seq',
  'platz',
  'reihenfolge',
  'posicion',
  'ordre',
];
/** No field has as many. */
const MOST_PASSES = 10_000;

/** A row of a list of strips; `number` counts from 1. */
export interface ListedStrip extends Omit<LayoutFeature, 'polygon'> {
  readonly polygon: null;
  readonly passes?: readonly number[];
}

/**
 * Is the table a list of strips: a row a strip with its treatment, no positions, and nothing measured? It may say
 * which harvest passes each strip was cut in; with a heading such as "passes" it is one whatever else stands in it.
 */
export function isStripList(table: DelimitedTable): boolean {
  const corners = recogniseColumns(table, 'corners', {});
  const asked = new Set(corners.recognition.questions.map(({ role }) => role));
  const has = (role: 'treatment' | 'longitude' | 'latitude') =>
    columnOf(corners.recognition, role) !== null || asked.has(role);
  if (!has('treatment') || has('longitude') || has('latitude')) return false;
  if (table.headings.some((heading) => namedBy(heading, PASSES_WORDS))) return true;
  const labels = new Set(corners.recognition.columns.map(({ columnIndex }) => columnIndex));
  return table.headings.every(
    (heading, index) =>
      labels.has(index) || namedBy(heading, [...PLACE_WORDS, ...PASS_WORDS]) || !holdsNumbers(table, index),
  );
}

/** The rows as features without a polygon, in the order of the list. */
export function listedStrips(table: DelimitedTable): Outcome<readonly ListedStrip[]> {
  const { file } = table;
  const problems: Problem[] = [...rowsTooLong(table)];
  const column = passColumn(table);
  const columns = table.headings.map((_, index) => columnCells(table, index));
  const lists = column === null ? null : columns[column]!;
  const strips = table.rows.map((_, row): ListedStrip => {
    const read = lists === null ? null : readPassList(lists[row] ?? '', MOST_PASSES);
    if (read !== null && !read.ok) {
      const place = { file, row: table.rowNumbers[row] ?? null, column: table.headings[column ?? 0] ?? null };
      problems.push(intakeProblem('passesNotRead', place, { part: read.part, fault: read.fault }));
    }
    const entries = table.headings.flatMap((heading, index) =>
      index === column ? [] : [[heading, columns[index]?.[row] ?? ''] as const],
    );
    const passes = read?.ok === true && read.passes.length > 0 ? { passes: read.passes } : {};
    return { number: row + 1, id: null, properties: Object.fromEntries(entries), polygon: null, ...passes };
  });
  return problems.some(({ severity }) => severity === 'error')
    ? failure(...problems)
    : success(strips, problems);
}

function passColumn({ headings }: DelimitedTable): number | null {
  const index = headings.findIndex((heading) => namedBy(heading, [...PASSES_WORDS, ...PASS_WORDS]));
  return index < 0 ? null : index;
}

function namedBy(heading: string, words: readonly string[]): boolean {
  return takeHeadingApart(heading).words.some((word) => words.includes(word));
}

function holdsNumbers(table: DelimitedTable, index: number): boolean {
  return columnCells(table, index).some((cell) => /^\s*[-+]?[\d.,]*\d/.test(cell));
}
