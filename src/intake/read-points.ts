import type { Crop } from '../trial/crops.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { HarvestFile } from '../trial/trial-document.ts';
import { columnCells, type DelimitedTable, readDelimited } from './delimited-table.ts';
import type { HarvestPoints } from './harvest-data.ts';
import { readHeaderStates } from './header-states.ts';
import { moistureProblems } from './moisture-values.ts';
import { type NumberColumn, numberColumn } from './number-column.ts';
import { screenPositions } from './point-positions.ts';
import { clockTimes } from './point-times.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf, recogniseColumns } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn } from './recognition.ts';
import { type Converted, unitFactor } from './unit-factor.ts';
import { yieldAnswers } from './yield-answers.ts';

/**
 * A yield-monitor file as points in SI. `harvestFile` carries the user's choices of columns and units and what was
 * answered about the yield column; `crop` turns bushels into mass. Text in a number column makes a point
 * unreadable, which is counted and said; a question left open stops the reading.
 */
export function readPoints(
  bytes: Uint8Array,
  file: string,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  const table = readDelimited(bytes, file);
  if (!table.ok) return table;
  const reading = recogniseColumns(table.value, 'points', harvestFile?.columns ?? {});
  const points = pointsOfTable(table.value, reading, harvestFile, crop);
  return { ...points, problems: [...table.problems, ...points.problems] };
}

function pointsOfTable(
  table: DelimitedTable,
  reading: ColumnReading,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  const missing = [...reading.problems, ...missingColumns(table, reading)];
  if (missing.length > 0) return failure(...missing);
  const work = startWork(table, reading, crop);
  const longitude = work.numbers('longitude') ?? new Float64Array();
  const latitude = work.numbers('latitude') ?? new Float64Array();
  const measured = measuredColumns(work);
  const heading = (role: ColumnRole) => columnOf(reading.recognition, role)?.heading ?? '';
  const at = { file: table.file, rowNumbers: table.rowNumbers };
  const headings = { longitudeHeading: heading('longitude'), latitudeHeading: heading('latitude') };
  work.problems.push(...screenPositions(longitude, latitude, { ...at, ...headings }));
  if (measured.moisturePercent !== null) {
    const column = columnOf(reading.recognition, 'moisture');
    const place = { ...at, heading: heading('moisture'), kept: true };
    const unitWasSaid = column?.unit != null && column.chosenByUser;
    work.problems.push(...moistureProblems(measured.moisturePercent, place, unitWasSaid));
  }
  const timeS = timesOf(work);
  const headerDown = headerStatesOf(work);
  work.problems.push(...nothingReadable(work, longitude, latitude));
  if (work.problems.some(({ severity }) => severity === 'error')) return failure(...work.problems);
  const carrier = ['yield', 'massFlow', 'mass'].find(
    (role) => heading(role as ColumnRole) !== '',
  ) as ColumnRole;
  return success(
    {
      file: table.file ?? '',
      count: table.rows.length,
      row: Int32Array.from(table.rowNumbers),
      longitude,
      latitude,
      ...measured,
      timeS,
      headerDown,
      unreadableRows: unreadableRows([longitude, latitude, ...Object.values(measured), timeS]),
      yieldColumn: yieldAnswers(heading(carrier), harvestFile),
      recognition: reading.recognition,
    },
    work.problems,
  );
}

interface Work {
  readonly table: DelimitedTable;
  readonly reading: ColumnReading;
  readonly problems: Problem[];
  /** Values of a role in SI; null where the file has no column for it. */
  readonly numbers: (role: ColumnRole) => Float64Array | null;
}

function startWork(table: DelimitedTable, reading: ColumnReading, crop: Crop | null): Work {
  const problems: Problem[] = [];
  const tooLong = new Set(table.tooLong);
  const numbers = (role: ColumnRole) => {
    const column = columnOf(reading.recognition, role);
    if (column === null) return null;
    const factor = unitFactor(column, reading.units.get(role) ?? null, crop, table.file);
    problems.push(...factor.problems);
    const cells = columnCells(table, column.columnIndex).map((cell, i) => (tooLong.has(i) ? '' : cell));
    const read = numberColumn(cells, table.decimals);
    problems.push(...pointRemarks(read, cells, column, table));
    return inSi(read.values, factor);
  };
  return { table, reading, problems, numbers };
}

function inSi(values: Float64Array, { factor }: Converted): Float64Array {
  return factor === 1 ? values : values.map((value) => value * factor);
}

function measuredColumns(work: Work) {
  return {
    yieldKgPerHa: work.numbers('yield'),
    massFlowKgPerS: work.numbers('massFlow'),
    massKg: work.numbers('mass'),
    moisturePercent: work.numbers('moisture'),
    speedMPerS: work.numbers('speed'),
    distanceM: work.numbers('distance'),
    widthM: work.numbers('width'),
    headingDegrees: work.numbers('heading'),
  };
}

function missingColumns(table: DelimitedTable, reading: ColumnReading): Problem[] {
  const asked = new Set(reading.recognition.questions.map(({ role }) => role));
  const has = (role: ColumnRole) => columnOf(reading.recognition, role) !== null || asked.has(role);
  const place = { file: table.file };
  const { headings } = table;
  const missing = (['longitude', 'latitude'] as const).filter((role) => !has(role));
  const problems: Problem[] = [];
  if (missing.length > 0) problems.push(intakeProblem('noPositionColumns', place, { missing, headings }));
  if (!has('yield') && !has('massFlow') && !has('mass')) {
    problems.push(intakeProblem('noYieldColumn', place, { headings }));
  }
  return problems;
}

function pointRemarks(
  read: NumberColumn,
  cells: readonly string[],
  column: RecognisedColumn,
  table: DelimitedTable,
): Problem[] {
  const at = (first: number) => ({
    file: table.file,
    row: table.rowNumbers[first] ?? null,
    column: column.heading,
  });
  const remarks: Problem[] = [];
  if (read.unreadable.count > 0) {
    const text = (cells[read.unreadable.first] ?? '').trim().slice(0, 60);
    const code = read.ambiguous ? 'ambiguousNumber' : 'textInNumberColumn';
    remarks.push(intakeProblem(code, at(read.unreadable.first), { text, count: read.unreadable.count }));
  }
  if (read.blank.count > 0) {
    const details = { count: read.blank.count, of: cells.length };
    remarks.push(intakeProblem('blankCells', at(read.blank.first), details));
  }
  return remarks;
}

function timesOf(work: Work): Float64Array | null {
  const column = columnOf(work.reading.recognition, 'time');
  if (column === null) return null;
  if (work.reading.units.has('time')) return sinceFirst(work.numbers('time'));
  const cells = columnCells(work.table, column.columnIndex);
  const times = clockTimes(cells);
  if (times.unreadable > 0) {
    const row = work.table.rowNumbers[times.firstUnreadable] ?? null;
    const text = (cells[times.firstUnreadable] ?? '').trim().slice(0, 60);
    const details = { text, count: times.unreadable, of: cells.length };
    work.problems.push(
      intakeProblem('timeNotRead', { file: work.table.file, row, column: column.heading }, details),
    );
  }
  return times.secondsSinceFirst.every(Number.isNaN) ? null : times.secondsSinceFirst;
}

function sinceFirst(seconds: Float64Array | null): Float64Array | null {
  const start = seconds?.find((value) => !Number.isNaN(value));
  return seconds === null || start === undefined ? null : seconds.map((value) => value - start);
}

function headerStatesOf(work: Work): Uint8Array | null {
  const column = columnOf(work.reading.recognition, 'headerState');
  if (column === null) return null;
  const cells = columnCells(work.table, column.columnIndex);
  const { states, unreadable, firstUnreadable } = readHeaderStates(cells);
  if (unreadable > 0) {
    const row = work.table.rowNumbers[firstUnreadable] ?? null;
    const text = (cells[firstUnreadable] ?? '').trim().slice(0, 60);
    work.problems.push(
      intakeProblem(
        'headerStateNotRead',
        { file: work.table.file, row, column: column.heading },
        { text, count: unreadable },
      ),
    );
  }
  return states;
}

/** Positions, and whichever of yield, flow and mass the file has, must hold at least one value. */
function nothingReadable(work: Work, longitude: Float64Array, latitude: Float64Array): Problem[] {
  const empty = [longitude, latitude].findIndex((values) => values.every(Number.isNaN));
  if (empty < 0) return [];
  const column = columnOf(work.reading.recognition, empty === 0 ? 'longitude' : 'latitude');
  return [intakeProblem('noReadablePoints', { file: work.table.file, column: column?.heading ?? null }, {})];
}

function unreadableRows(columns: readonly (Float64Array | null)[]): number {
  const present = columns.filter((column) => column !== null);
  let count = 0;
  for (let index = 0; index < (present[0]?.length ?? 0); index += 1) {
    if (present.some((column) => Number.isNaN(column[index]))) count += 1;
  }
  return count;
}
