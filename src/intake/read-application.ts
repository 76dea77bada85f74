import { after, failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { ApplicationFile } from '../trial/trial-document.ts';
import { appliedRates, appliedStates, productsOf, swathsOf, timesOfLog } from './application-columns.ts';
import type { ApplicationLog, LoggedGround } from './application-log.ts';
import { type AppliedTable, appliedTablesOfTaskData } from './applied-task-data.ts';
import { unreadableRows } from './column-remarks.ts';
import { decodeText } from './decode-text.ts';
import { type DelimitedTable, readDelimited, tableOfCells } from './delimited-table.ts';
import { cellText, columnsOfFeatures, tableOfPointFeatures } from './feature-table.ts';
import { wholeOf } from './file-bytes.ts';
import { contentsOf, type FileContents } from './file-contents.ts';
import { foreignCoordinateSystem, type LayoutFeature, polygonFeatures } from './geojson-polygons.ts';
import { parseJsonText, startsLikeJson } from './json-text.ts';
import { kmlFeatures } from './kml-features.ts';
import { degreesOf, degreeTextRoles } from './point-degrees.ts';
import { screenPositions } from './point-positions.ts';
import { type PointRows, pointRowsOfTable } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf, recogniseColumns } from './recognise-columns.ts';
import { shapefileFeatures } from './shapefile-features.ts';
import type { SourceFile } from './source-file.ts';
import { tableOfWorkbook } from './workbook-table.ts';

/** Rows of a log, with the areas that they carry where it is one of areas, or the parts of a boom that were on. */
interface LogTable {
  readonly table: DelimitedTable;
  readonly areas: readonly LayoutFeature[] | null;
  readonly parts?: AppliedTable['parts'];
  /** Absent: not from a machine's description. */
  readonly offset?: AppliedTable['offset'];
}

/**
 * Logs of what was put out, from delimited text or a workbook (rows of points), GeoJSON, KML, KMZ or a shapefile
 * (points, or areas with properties), or ISO 11783-10 task data: there one log for each tank, else one. Columns and
 * properties are recognised by quantity and unit, or named by the user in `asked.columns`. A row counts as applied
 * where its state says so, else where its rate is above 0.
 */
export async function readApplicationSource(
  source: SourceFile,
  asked: ApplicationFile,
): Promise<Outcome<readonly ApplicationLog[]>> {
  return after(await logTables(source), (tables) => {
    const read = tables.map((log) => applicationOfTable(log, asked));
    const remarks = tables.slice(0, 1).flatMap((log) => boomRemark(log, asked));
    const problems = read.flatMap((one) => one.problems);
    const logs = read.flatMap((one) => (one.ok ? [one.value] : []));
    // A tank that never opened is no fault of the others.
    const isFault = read.some(
      (one) =>
        !one.ok &&
        !one.problems.every(({ severity, code }) => severity !== 'error' || code === 'nothingApplied'),
    );
    if (logs.length === 0 || isFault) return failure(...problems);
    return success(logs, [...remarks, ...problems.filter(({ code }) => code !== 'nothingApplied')]);
  });
}

/** What was understood of its columns or properties, whether or not it can be read. */
export async function recogniseApplication(
  source: SourceFile,
  asked: ApplicationFile,
): Promise<Outcome<ColumnReading>> {
  return after(await logTables(source), ([first]) =>
    first === undefined
      ? failure(intakeProblem('emptyFile', { file: source.name }, {}))
      : success(readingOf(first.table, asked)),
  );
}

async function logTables(source: SourceFile): Promise<Outcome<readonly LogTable[]>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  if (value.form !== 'taskData') return after(await logTable(value, source.name), (one) => success([one]));
  return after(await appliedTablesOfTaskData(value.bytes, source.name), (tables) =>
    success(tables.map((one) => ({ ...one, areas: null }))),
  );
}

type OneLog = Exclude<FileContents, { form: 'taskData' }>;

async function logTable(contents: OneLog, name: string): Promise<Outcome<LogTable>> {
  switch (contents.form) {
    case 'text':
      return startsLikeJson(contents.bytes)
        ? logOfJson(wholeOf(contents.bytes), name)
        : after(readDelimited(wholeOf(contents.bytes), name), pointLog);
    case 'workbook':
      return after(await tableOfWorkbook(contents.bytes, name), pointLog);
    case 'kml':
      return after(await kmlFeatures(contents.text, name), (features) => logOfFeatures(features, name));
    case 'shapefile':
      return after(await shapefileFeatures(contents.parts), (features) => logOfFeatures(features, name));
  }
}

function pointLog(table: DelimitedTable): Outcome<LogTable> {
  return success({ table, areas: null });
}

function logOfJson(bytes: Uint8Array, file: string): Outcome<LogTable> {
  const json = after(decodeText(bytes, file), (text) => parseJsonText(text, file));
  return after(json, (value) => {
    const foreign = foreignCoordinateSystem(value);
    if (foreign !== null) return failure(intakeProblem('otherCoordinateSystem', { file }, { name: foreign }));
    return logOfFeatures(value, file);
  });
}

/** Where there is an area, areas are the log; the label points that some programs put beside them are not. */
function logOfFeatures(collection: unknown, file: string): Outcome<LogTable> {
  if (!holdsAreas(collection)) return after(tableOfPointFeatures(collection, file), pointLog);
  return after(polygonFeatures(collection, file), (areas) => {
    const names = [...new Set(areas.flatMap(({ properties }) => Object.keys(properties)))];
    const rows = areas.map(({ properties }) => names.map((name) => cellText(properties[name])));
    return after(tableOfCells(names, rows, file), (table) => success({ table, areas }));
  });
}

function holdsAreas(collection: unknown): boolean {
  const { type, features } = (collection ?? {}) as { type?: unknown; features?: unknown };
  const all: unknown[] = type === 'Feature' ? [collection] : Array.isArray(features) ? features : [];
  return all.some((feature) => {
    const { geometry } = (feature ?? {}) as { geometry?: { type?: unknown } | null };
    return geometry?.type === 'Polygon' || geometry?.type === 'MultiPolygon';
  });
}

function readingOf(table: DelimitedTable, { columns }: ApplicationFile): ColumnReading {
  const choices = columnsOfFeatures(table, columns);
  const reading = recogniseColumns(table, 'application', choices);
  const isAsked = reading.recognition.questions.some(({ role }) => role === 'appliedRate');
  const hasRate = isAsked || columnOf(reading.recognition, 'appliedRate') !== null;
  return hasRate ? reading : recogniseColumns(table, 'applicationByFlow', choices);
}

function applicationOfTable(
  { table, areas, parts, offset }: LogTable,
  asked: ApplicationFile,
): Outcome<ApplicationLog> {
  const reading = readingOf(table, asked);
  const problems: Problem[] = [...reading.problems];
  if (areas === null) problems.push(...missingPositions(table, reading));
  if (hasError(problems)) return failure(...problems);
  const rows = pointRowsOfTable(table);
  const ground =
    areas === null
      ? withParts(pointGround(rows, table, reading, asked, problems), parts, offset)
      : areaGround(areas);
  if (ground === null) return failure(...problems);
  const rates = appliedRates(rows, reading, ground, problems);
  const applied = appliedStates(rows, reading, rates?.putOut ?? null, problems);
  const { products, product } = productsOf(rows, reading);
  if (hasError(problems)) return failure(...problems);
  return success(
    {
      file: rows.file,
      count: rows.count,
      row: areas === null ? rows.rowNumbers : Int32Array.from(areas, ({ number }) => number),
      ground,
      rate: rates?.values ?? null,
      rateUnit: rates?.unit ?? null,
      products,
      product,
      applied,
      unreadableRows: unreadableRows([...columnsOf(ground), ...(rates?.values ? [rates.values] : [])]),
      recognition: reading.recognition,
    },
    problems,
  );
}

function hasError(problems: readonly Problem[]): boolean {
  return problems.some(({ severity }) => severity === 'error');
}

function missingPositions({ headings, file }: DelimitedTable, reading: ColumnReading): Problem[] {
  const asked = new Set(reading.recognition.questions.map(({ role }) => role));
  const missing = (['longitude', 'latitude'] as const).filter(
    (role) => columnOf(reading.recognition, role) === null && !asked.has(role),
  );
  return missing.length === 0 ? [] : [intakeProblem('noPositionColumns', { file }, { missing, headings })];
}

function pointGround(
  rows: PointRows,
  table: DelimitedTable,
  reading: ColumnReading,
  asked: ApplicationFile,
  problems: Problem[],
): LoggedGround | null {
  const { longitude, latitude } = degreesOf(
    rows,
    reading,
    degreeTextRoles(table, reading),
    problems,
    (role) => {
      const index = columnOf(reading.recognition, role)?.columnIndex ?? -1;
      return rows.numbers(index).values;
    },
  );
  const heading = (role: 'longitude' | 'latitude') => columnOf(reading.recognition, role)?.heading ?? '';
  const at = { file: rows.file, rowNumbers: rows.rowNumbers };
  const headings = { longitudeHeading: heading('longitude'), latitudeHeading: heading('latitude') };
  problems.push(...screenPositions(longitude, latitude, { ...at, ...headings }));
  if (longitude.every(Number.isNaN))
    problems.push(intakeProblem('noReadablePoints', { file: rows.file, column: heading('longitude') }, {}));
  const widthM = swathsOf(rows, reading, asked.swathM ?? null, problems);
  const timeS = timesOfLog(rows, reading, problems);
  return widthM === null ? null : { kind: 'points', longitude, latitude, widthM, timeS };
}

function withParts(
  ground: LoggedGround | null,
  parts: LogTable['parts'],
  offset: LogTable['offset'],
): LoggedGround | null {
  if (ground?.kind !== 'points') return ground;
  const known = parts?.some((own) => own !== null) ? parts : null;
  return { ...ground, ...(known ? { parts: known } : {}), ...(offset ? { offset } : {}) };
}

/** Where the boom is taken to lie, unless the user said it. */
function boomRemark(
  { offset, table }: LogTable,
  { boomBehindM = null }: Pick<ApplicationFile, 'boomBehindM'>,
): Problem[] {
  if (offset === undefined || boomBehindM !== null) return [];
  const place = { file: table.file };
  return [
    offset === null
      ? intakeProblem('boomNotPlaced', place, {})
      : intakeProblem('boomPlaced', place, { ...offset }),
  ];
}

function areaGround(areas: readonly LayoutFeature[]): LoggedGround {
  return { kind: 'areas', polygons: areas.map(({ polygon }) => polygon) };
}

function columnsOf(ground: LoggedGround): readonly Float64Array[] {
  if (ground.kind === 'areas') return [];
  const { longitude, latitude, widthM, timeS } = ground;
  return [longitude, latitude, widthM, ...(timeS === null ? [] : [timeS])];
}
