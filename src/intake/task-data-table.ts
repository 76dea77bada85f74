/// <reference path="./file-readers.d.ts" />
import type { LoggedRecord, TaskLog } from 'isoxml';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type DelimitedTable, tableOfCells } from './delimited-table.ts';
import { intakeProblem } from './problem-codes.ts';
import { reasonOf } from './unpack-zip.ts';

/** A quantity of the data dictionary that a harvest needs, and the column that it becomes. */
interface LoggedQuantity {
  readonly ddi: number;
  readonly heading: string;
  readonly unit: string | null;
  /** Raw value × factor = value in the unit. */
  readonly factor: number;
  /** Counted up from the start of the task: the column holds what was added since the record before. */
  readonly isTotal?: boolean;
}

const LITRES_PER_BUSHEL = 35.23907016688;
const M2_PER_ACRE = 4046.8564224;

/**
 * Identifiers, units and resolutions of ISO 11783-11 (data dictionary, open at isobus.net): mass per area mg/m²,
 * volume per area ml/m², mass per time mg/s, moisture ppm, width mm, total distance mm, speed mm/s, work state 0/1.
 */
const QUANTITIES: readonly LoggedQuantity[] = [
  { ddi: 84, heading: 'Yield, mass per area', unit: 'kg/ha', factor: 0.01 },
  {
    ddi: 83,
    heading: 'Yield, volume per area',
    unit: 'bu/ac',
    factor: M2_PER_ACRE / 1000 / LITRES_PER_BUSHEL,
  },
  { ddi: 181, heading: 'Yield dry, mass per area', unit: 'kg/ha', factor: 0.01 },
  { ddi: 87, heading: 'Mass flow', unit: 'kg/s', factor: 1e-6 },
  { ddi: 86, heading: 'Flow, volume per time', unit: 'bu/h', factor: 3600 / 1000 / LITRES_PER_BUSHEL },
  { ddi: 182, heading: 'Mass flow dry', unit: 'kg/s', factor: 1e-6 },
  { ddi: 99, heading: 'Moisture', unit: '%', factor: 1e-4 },
  { ddi: 67, heading: 'Working width', unit: 'm', factor: 1e-3 },
  { ddi: 117, heading: 'Distance', unit: 'm', factor: 1e-3, isTotal: true },
  { ddi: 397, heading: 'Speed', unit: 'm/s', factor: 1e-3 },
  { ddi: 141, heading: 'Work state', unit: null, factor: 1 },
];

/** One logged value of one device element. */
interface Column extends LoggedQuantity {
  readonly key: string;
  readonly device: string;
}

/**
 * The time logs of ISO 11783-10 task data as one table of points, a row a record, all tasks and logs one behind the
 * other. A record holds only what was logged at that moment, so values stand until the next of their kind in the log.
 */
export async function tableOfTaskData(bytes: Uint8Array, file: string): Promise<Outcome<DelimitedTable>> {
  const { ISOXMLManager } = await import('isoxml');
  const manager = new ISOXMLManager();
  try {
    await manager.parseISOXMLFile(bytes, 'application/zip');
    const tasks = manager.rootElement.attributes.Task ?? [];
    const logs = tasks.flatMap(({ attributes }) => attributes.TimeLog ?? []);
    if (logs.length === 0) {
      return failure(intakeProblem('taskDataWithoutLogs', { file }, { tasks: tasks.length }));
    }
    return tableOfLogs(logs, file);
  } catch (error) {
    return failure(intakeProblem('taskDataDamaged', { file }, { reason: reasonOf(error) }));
  }
}

function tableOfLogs(logs: readonly TaskLog[], file: string): Outcome<DelimitedTable> {
  const problems: Problem[] = [];
  const complete = logs.filter((log) => isComplete(log, file, problems));
  const columns = columnsOf(complete);
  problems.push(...loggedValues(complete, columns, file));
  const carried = { count: 0 };
  const rows = complete.flatMap((log) => rowsOfLog(log, columns, carried, file, problems));
  if (rows.length === 0) {
    return failure(...problems, intakeProblem('taskDataWithoutLogs', { file }, { tasks: logs.length }));
  }
  if (carried.count > 0) {
    problems.push(intakeProblem('taskDataCarriedOn', { file }, { count: carried.count }));
  }
  const named = ['Time', 'Longitude', 'Latitude', ...headingsOf(columns)];
  const table = tableOfCells(named, rows, file);
  return table.ok ? success(table.value, [...problems, ...table.problems]) : table;
}

function isComplete(log: TaskLog, file: string, problems: Problem[]): boolean {
  const isThere = log.binaryData !== null && log.binaryData !== undefined && log.timeLogHeader !== undefined;
  if (!isThere) {
    problems.push(intakeProblem('taskLogMissing', { file }, { log: log.attributes.Filename }));
  }
  return isThere;
}

function columnsOf(logs: readonly TaskLog[]): readonly Column[] {
  const columns = new Map<string, Column>();
  for (const { ddi, device } of logs.flatMap(valuesOf)) {
    const quantity = QUANTITIES.find((known) => known.ddi === Number.parseInt(ddi, 16));
    const key = `${ddi}_${device}`;
    if (quantity !== undefined) columns.set(key, { ...quantity, key, device });
  }
  return [...columns.values()];
}

function valuesOf({ timeLogHeader }: TaskLog): { ddi: string; device: string }[] {
  return (timeLogHeader?.attributes.DataLogValue ?? []).flatMap(({ attributes }) =>
    attributes.DeviceElementIdRef === null || attributes.DeviceElementIdRef === undefined
      ? []
      : [{ ddi: attributes.ProcessDataDDI, device: attributes.DeviceElementIdRef.xmlId }],
  );
}

/** Several elements may log one quantity; their columns then carry the element's name, and the user is asked. */
function headingsOf(columns: readonly Column[]): string[] {
  return columns.map(({ ddi, heading, unit, device }) => {
    const isShared = columns.filter((column) => column.ddi === ddi).length > 1;
    return `${heading}${isShared ? ` ${device.replace(/(\D)(\d)/, '$1 $2')}` : ''}${unit === null ? '' : ` (${unit})`}`;
  });
}

function loggedValues(logs: readonly TaskLog[], columns: readonly Column[], file: string): Problem[] {
  const all = new Set(logs.flatMap(valuesOf).map(({ ddi }) => String(Number.parseInt(ddi, 16))));
  const used = new Set(columns.map(({ ddi }) => String(ddi)));
  const unused = [...all].filter((ddi) => !used.has(ddi));
  return [intakeProblem('taskDataLogged', { file }, { used: [...used], unused })];
}

/** What the binary log writes where it has no value. */
const NO_VALUE = [2 ** 31 - 1, -(2 ** 31)];

function rowsOfLog(
  log: TaskLog,
  columns: readonly Column[],
  carried: { count: number },
  file: string,
  problems: Problem[],
): string[][] {
  // The reader takes the whole buffer beneath its bytes, so they must be alone in it.
  log.binaryData = log.binaryData?.slice() ?? null;
  const { timeLogs } = log.parseBinaryFile();
  if (log.parsingErrors.length > 0) {
    const details = { log: log.attributes.Filename, records: timeLogs.length };
    problems.push(intakeProblem('taskLogCutOff', { file }, details));
  }
  const last = new Map<string, number>();
  return timeLogs.map((record) => [
    timeText(record),
    ...positionTexts(record),
    ...columns.map((column) => {
      const before = last.get(column.key);
      const now = record.values[column.key];
      const isLogged = now !== undefined && !NO_VALUE.includes(now);
      if (isLogged) last.set(column.key, now);
      if (column.isTotal) return isLogged && before !== undefined ? scaled(now - before, column) : '';
      if (!isLogged && before !== undefined) carried.count += 1;
      const value = isLogged ? now : before;
      return value === undefined ? '' : scaled(value, column);
    }),
  ]);
}

function scaled(value: number, { factor, unit }: LoggedQuantity): string {
  return unit === null ? String(value) : String(Number((value * factor).toPrecision(12)));
}

function timeText({ time }: LoggedRecord): string {
  return Number.isNaN(time.getTime()) ? '' : time.toISOString();
}

/** Without a fix (position status 0) a record has no position. */
function positionTexts({ position, isValidPosition }: LoggedRecord): [string, string] {
  if (position === undefined || !isValidPosition || position.PositionStatus === '0') return ['', ''];
  return [String(position.PositionEast), String(position.PositionNorth)];
}
