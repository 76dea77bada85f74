import type { Crop } from '../trial/crops.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { HarvestFile } from '../trial/trial-document.ts';
import { columnRemarks, unreadableRows } from './column-remarks.ts';
import type { DelimitedTable } from './delimited-table.ts';
import type { FileBytes } from './file-bytes.ts';
import type { HarvestPoints, PointLabels } from './harvest-data.ts';
import { readHeaderStates } from './header-states.ts';
import { moistureProblems } from './moisture-values.ts';
import { degreesOf, degreeTextRoles } from './point-degrees.ts';
import { openPointFile, type PointFile, wholePointFile } from './point-file.ts';
import { pointLabels } from './point-labels.ts';
import { allInOnePlace, screenPositions } from './point-positions.ts';
import { type ColumnsWanted, type PointRows, pointRowsOfTable } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf, recogniseColumns } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn } from './recognition.ts';
import { type RowsBeingRead, timesOf } from './row-times.ts';
import { scanPoints } from './scan-points.ts';
import { type Converted, unitFactor } from './unit-factor.ts';
import { yieldAnswers } from './yield-answers.ts';

/**
 * A yield-monitor file as points in SI. `harvestFile` carries the user's choices of columns and units and what was
 * answered about the yield column; `crop` turns bushels into mass. Text in a number column makes a point
 * unreadable, which is counted and said; a question left open stops the reading.
 */
export function readPoints(
  bytes: FileBytes,
  file: string,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  return pointsOfFile(openPointFile(bytes, file), bytes, file, harvestFile, crop);
}

function pointsOfFile(
  opened: Outcome<PointFile>,
  bytes: FileBytes,
  file: string,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  if (!opened.ok) return opened;
  const { table, headBytes } = opened.value;
  const reading = recogniseColumns(table, 'points', harvestFile?.columns ?? {});
  const understood = [...reading.problems, ...missingColumns(table.headings, file, reading)];
  if (understood.some(({ severity }) => severity === 'error')) {
    return failure(...opened.problems, ...understood);
  }
  const asText = degreeTextRoles(table, reading);
  const wanted = columnsWanted(reading, asText);
  const isScanned = headBytes !== null && !wantsOneTwice(wanted);
  const scanned = isScanned ? scanPoints(bytes, file, table, headBytes, wanted) : null;
  if (headBytes !== null && scanned === null)
    return pointsOfFile(wholePointFile(bytes, file), bytes, file, harvestFile, crop);
  const rows = scanned?.rows ?? pointRowsOfTable(table);
  const points = pointsOfRows(rows, reading, asText, harvestFile, crop);
  const before = [...opened.problems, ...understood, ...(scanned?.problems ?? [])];
  return { ...points, problems: [...before, ...points.problems] };
}

/** The same from a table that another format was brought into. */
export function pointsOfTable(
  table: DelimitedTable,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  const reading = recogniseColumns(table, 'points', harvestFile?.columns ?? {});
  const understood = [...reading.problems, ...missingColumns(table.headings, table.file ?? '', reading)];
  if (understood.some(({ severity }) => severity === 'error')) return failure(...understood);
  const asText = degreeTextRoles(table, reading);
  const points = pointsOfRows(pointRowsOfTable(table), reading, asText, harvestFile, crop);
  return { ...points, problems: [...understood, ...points.problems] };
}

const TEXT_ROLES: readonly ColumnRole[] = ['headerState', 'machine', 'operator', 'day'];

function columnsWanted(
  { recognition, units }: ColumnReading,
  asText: ReadonlySet<ColumnRole>,
): ColumnsWanted {
  const isText = ({ role }: RecognisedColumn) =>
    TEXT_ROLES.includes(role) || asText.has(role) || (role === 'time' && !units.has('time'));
  const indices = (columns: readonly RecognisedColumn[]) => columns.map(({ columnIndex }) => columnIndex);
  return {
    numbers: indices(recognition.columns.filter((column) => !isText(column))),
    texts: indices(recognition.columns.filter(isText)),
  };
}

/** The user may give one column two roles; a scan fills a column once, a table gives it to each. */
function wantsOneTwice({ numbers, texts }: ColumnsWanted): boolean {
  const all = [...numbers, ...texts];
  return new Set(all).size < all.length;
}

function pointsOfRows(
  rows: PointRows,
  reading: ColumnReading,
  asText: ReadonlySet<ColumnRole>,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Outcome<HarvestPoints> {
  const work = startWork(rows, reading, crop);
  const { longitude, latitude } = degreesOf(rows, reading, asText, work.problems, work.numbers);
  const measured = measuredColumns(work);
  const heading = (role: ColumnRole) => columnOf(reading.recognition, role)?.heading ?? '';
  const at = { file: rows.file, rowNumbers: rows.rowNumbers };
  const headings = { longitudeHeading: heading('longitude'), latitudeHeading: heading('latitude') };
  work.problems.push(...screenPositions(longitude, latitude, { ...at, ...headings }));
  work.problems.push(...allInOnePlace(longitude, latitude, rows.file));
  if (measured.moisturePercent !== null) {
    const place = { ...at, heading: heading('moisture'), kept: true };
    const unitWasSaid = unitChosen(columnOf(reading.recognition, 'moisture'));
    work.problems.push(...moistureProblems(measured.moisturePercent, place, unitWasSaid));
  }
  const machine = labelsOf(work, 'machine');
  const isOneMachine = machine === null || machine.names.length < 2;
  const { timeS, startS } = timesOf(work, isOneMachine ? { longitude, latitude } : undefined);
  const headerDown = headerStatesOf(work);
  if (!work.problems.some(({ severity }) => severity === 'error')) {
    work.problems.push(...nothingReadable(work, { longitude, latitude, ...carriersOf(measured) }));
  }
  if (work.problems.some(({ severity }) => severity === 'error')) return failure(...work.problems);
  const carrier = YIELD_CARRIERS.find((role) => heading(role) !== '') ?? 'yield';
  return success(
    {
      file: rows.file,
      count: rows.count,
      longitude,
      latitude,
      ...measured,
      timeS,
      startS,
      headerDown,
      machine,
      operator: labelsOf(work, 'operator'),
      day: labelsOf(work, 'day'),
      unreadableRows: unreadableRows([longitude, latitude, ...Object.values(measured), timeS]),
      yieldColumn: yieldAnswers(heading(carrier), harvestFile),
      recognition: reading.recognition,
    },
    work.problems,
  );
}

const YIELD_CARRIERS: readonly ColumnRole[] = ['yield', 'massFlow', 'mass'];

function unitChosen(column: RecognisedColumn | null): boolean {
  return column?.chosenByUser === true && column.unit !== null;
}

function startWork(rows: PointRows, reading: ColumnReading, crop: Crop | null): RowsBeingRead {
  const problems: Problem[] = [];
  const numbers = (role: ColumnRole) => {
    const column = columnOf(reading.recognition, role);
    if (column === null) return null;
    const factor = unitFactor(column, reading.units.get(role) ?? null, crop, rows.file);
    const read = rows.numbers(column.columnIndex);
    problems.push(...factor.problems, ...columnRemarks(read, column, rows));
    bringToSi(read.values, factor);
    return read.values;
  };
  return { rows, reading, problems, numbers };
}

/** In place: a table gives each role a column of its own, and a scan is asked for one role a column. */
function bringToSi(values: Float64Array, { factor }: Converted): void {
  if (factor === 1) return;
  for (let i = 0; i < values.length; i += 1) values[i]! *= factor;
}

function measuredColumns(work: RowsBeingRead) {
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

function carriersOf(measured: ReturnType<typeof measuredColumns>) {
  return { yield: measured.yieldKgPerHa, massFlow: measured.massFlowKgPerS, mass: measured.massKg };
}

function missingColumns(headings: readonly string[], file: string, reading: ColumnReading): Problem[] {
  const asked = new Set(reading.recognition.questions.map(({ role }) => role));
  const has = (role: ColumnRole) => columnOf(reading.recognition, role) !== null || asked.has(role);
  const missing = (['longitude', 'latitude'] as const).filter((role) => !has(role));
  const problems: Problem[] = [];
  if (missing.length > 0) problems.push(intakeProblem('noPositionColumns', { file }, { missing, headings }));
  if (!YIELD_CARRIERS.some(has)) problems.push(intakeProblem('noYieldColumn', { file }, { headings }));
  return problems;
}

function labelsOf(work: RowsBeingRead, role: ColumnRole): PointLabels | null {
  const column = columnOf(work.reading.recognition, role);
  return column === null ? null : pointLabels(work.rows.texts(column.columnIndex));
}

function headerStatesOf(work: RowsBeingRead): Uint8Array | null {
  const column = columnOf(work.reading.recognition, 'headerState');
  if (column === null) return null;
  const { states, unreadable } = readHeaderStates(work.rows.texts(column.columnIndex));
  if (unreadable.count > 0) {
    const { count, first, text } = unreadable;
    const place = { file: work.rows.file, row: work.rows.rowNumbers[first] ?? null, column: column.heading };
    work.problems.push(intakeProblem('headerStateNotRead', place, { text, count }));
  }
  return states;
}

/** Positions, and each of yield, flow and mass that the file has, must hold at least one value. */
function nothingReadable(
  work: RowsBeingRead,
  columns: Readonly<Record<string, Float64Array | null>>,
): Problem[] {
  return Object.entries(columns).flatMap(([role, values]) => {
    if (values === null || !values.every(Number.isNaN)) return [];
    const column = columnOf(work.reading.recognition, role as ColumnRole);
    return [intakeProblem('noReadablePoints', { file: work.rows.file, column: column?.heading ?? null }, {})];
  });
}
