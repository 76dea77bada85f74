import type { Problem } from '../trial/problem.ts';
import { readDecimal } from './decimal-number.ts';
import { type Axis, readDegreeText } from './degree-text.ts';
import { columnCells, type DelimitedTable } from './delimited-table.ts';
import { ROWS_FOR_READING, tallyOf } from './number-column.ts';
import type { PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn } from './recognition.ts';
import { fromUtm, isInZone, readUtmZone, type UtmZone } from './utm-zone.ts';

export interface Degrees {
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
}

/** The columns whose positions are written in degrees and minutes, or with a letter, rather than as numbers. */
export function degreeTextRoles(table: DelimitedTable, reading: ColumnReading): ReadonlySet<ColumnRole> {
  const roles = (['longitude', 'latitude'] as const).filter((role) => {
    const column = columnOf(reading.recognition, role);
    if (column === null) return false;
    const cells = columnCells(table, column.columnIndex).slice(0, ROWS_FOR_READING);
    const texts = cells.filter((cell) => readDecimal(cell, table.decimals).kind === 'notANumber');
    const read = texts.filter((cell) => !Number.isNaN(readDegreeText(cell, role)));
    return read.length > 0 && read.length * 2 > cells.filter((cell) => cell.trim() !== '').length;
  });
  return new Set(roles);
}

/** Longitude and latitude of each row, from numbers, from texts, or from metres of a zone. */
export function degreesOf(
  rows: PointRows,
  reading: ColumnReading,
  asText: ReadonlySet<ColumnRole>,
  problems: Problem[],
  numbers: (role: Axis) => Float64Array | null,
): Degrees {
  const axis = (role: Axis): Float64Array => {
    const column = columnOf(reading.recognition, role);
    if (column === null) return new Float64Array();
    return asText.has(role)
      ? axisFromTexts(role, column, rows, problems)
      : (numbers(role) ?? new Float64Array());
  };
  const [x, y] = [axis('longitude'), axis('latitude')];
  const zone = readUtmZone(columnOf(reading.recognition, 'longitude')?.readAs ?? '');
  return zone === null ? { longitude: x, latitude: y } : degreesFromGrid(x, y, zone, rows, problems);
}

function axisFromTexts(
  axis: Axis,
  column: RecognisedColumn,
  rows: PointRows,
  problems: Problem[],
): Float64Array {
  const cells = rows.texts(column.columnIndex);
  const values = Float64Array.from(cells, (cell) => readDegreeText(cell, axis));
  const place = (index: number) => ({
    file: rows.file,
    column: column.heading,
    row: rows.rowNumbers[index] ?? null,
  });
  const first = values.findIndex((value) => !Number.isNaN(value));
  if (first >= 0) {
    const details = { text: (cells[first] ?? '').trim(), degrees: values[first] ?? null };
    problems.push(intakeProblem('positionsInMinutes', place(first), details));
  }
  const isUnread = (index: number) => Number.isNaN(values[index]) && (cells[index] ?? '').trim() !== '';
  const unread = tallyOf(cells, isUnread);
  if (unread.count > 0) {
    const details = { text: unread.text, count: unread.count };
    problems.push(intakeProblem('textInNumberColumn', place(unread.first), details));
  }
  return values;
}

/** Eastings and northings of a zone to degrees; where most cannot lie in any zone, that stops the reading. */
function degreesFromGrid(
  eastingM: Float64Array,
  northingM: Float64Array,
  zone: UtmZone,
  rows: PointRows,
  problems: Problem[],
): Degrees {
  const longitude = new Float64Array(eastingM.length).fill(Number.NaN);
  const latitude = new Float64Array(eastingM.length).fill(Number.NaN);
  const toDegrees = fromUtm(zone);
  let [readable, outside, first] = [0, 0, -1];
  for (let i = 0; i < eastingM.length; i += 1) {
    const [east, north] = [eastingM[i] ?? Number.NaN, northingM[i] ?? Number.NaN];
    if (Number.isNaN(east) || Number.isNaN(north)) continue;
    readable += 1;
    if (isInZone(east, north)) {
      [longitude[i], latitude[i]] = toDegrees(east, north);
      continue;
    }
    if (outside === 0) first = i;
    outside += 1;
  }
  if (outside === 0) {
    problems.push(intakeProblem('readInZone', { file: rows.file }, { zone: zone.name }));
    return { longitude, latitude };
  }
  const place = { file: rows.file, row: rows.rowNumbers[first] ?? null };
  const details = {
    zone: zone.name,
    eastingM: eastingM[first] ?? null,
    northingM: northingM[first] ?? null,
    count: outside,
  };
  const severity = outside * 2 > readable ? 'error' : 'warning';
  problems.push(intakeProblem('notInZone', place, details, severity));
  return { longitude, latitude };
}
