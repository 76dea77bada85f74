import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { LayoutFile } from '../trial/trial-document.ts';
import { readingOf } from './decimal-number.ts';
import { columnCells, type DelimitedTable } from './delimited-table.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { numberColumn } from './number-column.ts';
import { degreesOf, degreeTextRoles } from './point-degrees.ts';
import { pointRowsOfTable } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, recogniseColumns } from './recognise-columns.ts';
import { rowsTooLong } from './rows-too-long.ts';
import type { FeatureCollection } from './shapefile-features.ts';

const ORDER_WORDS = [
  'order',
  'sequence',
  'seq',
  'corner',
  'vertex',
  'point',
  'ecke',
  'reihenfolge',
  'punkt',
  'ordre',
  'orden',
];

/**
 * A layout as a table of corner points, one row a corner: strip, order of the corner (else the rows' own order),
 * position, and what the strip carries (treatment, block) on each of its rows alike. The rings are closed.
 */
export function cornerFeatures(
  table: DelimitedTable,
  named: LayoutFile['properties'],
): Outcome<FeatureCollection> {
  const choices = named.strip === null ? {} : { strip: { heading: named.strip, unit: null } };
  const reading = recogniseColumns(table, 'corners', choices);
  const problems: Problem[] = [...reading.problems, ...rowsTooLong(table)];
  const column = (role: 'strip' | 'longitude' | 'latitude') => columnOf(reading.recognition, role);
  const { file, headings } = table;
  const missing = (['longitude', 'latitude'] as const).filter((role) => column(role) === null);
  if (missing.length > 0 && !problems.some(({ severity }) => severity === 'error')) {
    problems.push(intakeProblem('noPositionColumns', { file }, { missing, headings }));
  }
  const strip = column('strip');
  if (strip === null) problems.push(intakeProblem('cornersWithoutStrip', { file }, { headings }));
  if (strip === null || problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  const rows = pointRowsOfTable(table);
  const positions = degreesOf(rows, reading, degreeTextRoles(table, reading), problems, (role) => {
    const index = columnOf(reading.recognition, role)?.columnIndex ?? -1;
    return rows.numbers(index).values;
  });
  const positionHeadings = [column('longitude')?.heading, column('latitude')?.heading];
  const order = orderOfCorners(table, [strip.heading, ...positionHeadings]);
  const corners = columnCells(table, strip.columnIndex).map((cell, index) => ({
    strip: cell.trim(),
    index,
    order: order?.[index] ?? index,
    at: [positions.longitude[index] ?? Number.NaN, positions.latitude[index] ?? Number.NaN] as const,
  }));
  problems.push(...cornersNotRead(corners, table));
  if (problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  const ids = [...new Set(corners.map(({ strip: id }) => id))];
  const features = ids.map((id) => {
    const own = corners.filter((corner) => corner.strip === id);
    return feature(own, table, positionHeadings, problems);
  });
  if (problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  return success({ type: 'FeatureCollection', features }, problems);
}

interface Corner {
  readonly strip: string;
  readonly index: number;
  readonly order: number;
  readonly at: readonly [number, number];
}

/** null: no column tells it, so the rows stand in the order of the ring. */
function orderOfCorners(table: DelimitedTable, taken: readonly (string | undefined)[]): Float64Array | null {
  const candidates = table.headings.flatMap((heading, index) => {
    if (taken.includes(heading)) return [];
    const rank = ORDER_WORDS.findIndex((word) => takeHeadingApart(heading).words.includes(word));
    return rank < 0 ? [] : [{ index, rank }];
  });
  const best = candidates.sort((a, b) => a.rank - b.rank)[0];
  if (best === undefined) return null;
  const cells = columnCells(table, best.index);
  const { values } = numberColumn(cells, readingOf(cells, table.decimals));
  return values.some(Number.isNaN) ? null : values;
}

function cornersNotRead(corners: readonly Corner[], table: DelimitedTable): Problem[] {
  const bad = corners.filter(({ strip, at }) => strip === '' || at.some(Number.isNaN));
  const [first] = bad;
  if (first === undefined) return [];
  const place = { file: table.file, row: table.rowNumbers[first.index] ?? null };
  return [intakeProblem('cornerNotRead', place, { strip: first.strip || null, count: bad.length })];
}

/** What all rows of a strip say alike is a property of the strip; what they say differently is one of its corners. */
function feature(
  corners: readonly Corner[],
  table: DelimitedTable,
  positionHeadings: readonly (string | undefined)[],
  problems: Problem[],
): unknown {
  const inOrder = corners.toSorted((a, b) => a.order - b.order);
  const properties: Record<string, string> = {};
  table.headings.forEach((heading, index) => {
    if (heading === '' || positionHeadings.includes(heading)) return;
    const texts = corners.map((corner) => (table.rows[corner.index]?.[index] ?? '').trim());
    const [first = ''] = texts;
    const odd = texts.findIndex((text) => text !== first);
    if (odd < 0) properties[heading] = first;
    else if (isLabel(heading, table)) {
      const place = {
        file: table.file,
        row: table.rowNumbers[corners[odd]?.index ?? 0] ?? null,
        column: heading,
      };
      const details = { strip: corners[0]?.strip ?? null, a: first, b: texts[odd] ?? '' };
      problems.push(intakeProblem('cornersDisagree', place, details));
    }
  });
  const ring = inOrder.map(({ at }) => at);
  const [first] = ring;
  const isClosed = first?.[0] === ring.at(-1)?.[0] && first?.[1] === ring.at(-1)?.[1];
  const closed = isClosed && ring.length > 1 ? ring : [...ring, first];
  return { type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [closed] } };
}

function isLabel(heading: string, table: DelimitedTable): boolean {
  const { recognition } = recogniseColumns(table, 'corners', {});
  return recognition.columns.some(
    (column) => column.heading === heading && (column.role === 'treatment' || column.role === 'block'),
  );
}
