/// <reference path="./file-readers.d.ts" />
import type { TaskLog } from 'isoxml';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type DelimitedTable, tableOfCells } from './delimited-table.ts';
import { intakeProblem } from './problem-codes.ts';
import {
  isComplete,
  loggedColumns,
  openTaskData,
  positionTexts,
  recordsOf,
  taskDataDamaged,
  timeText,
  valueIn,
} from './task-data.ts';

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
  readonly element: string;
}

/**
 * The time logs of ISO 11783-10 task data as one table of points, a row a record, all tasks and logs one behind the
 * other. A record holds only what was logged at that moment, so values stand until the next of their kind in the log.
 */
export async function tableOfTaskData(bytes: Uint8Array, file: string): Promise<Outcome<DelimitedTable>> {
  const opened = await openTaskData(bytes, file);
  if (!opened.ok) return opened;
  try {
    const tasks = opened.value.rootElement.attributes.Task ?? [];
    const logs = tasks.flatMap(({ attributes }) => attributes.TimeLog ?? []);
    if (logs.length === 0) {
      return failure(intakeProblem('taskDataWithoutLogs', { file }, { tasks: tasks.length }));
    }
    return tableOfLogs(logs, file);
  } catch (error) {
    return failure(taskDataDamaged(error, file));
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

function columnsOf(logs: readonly TaskLog[]): readonly Column[] {
  const columns = new Map<string, Column>();
  for (const { ddi, element, key } of logs.flatMap(loggedColumns)) {
    const quantity = QUANTITIES.find((known) => known.ddi === ddi);
    if (quantity !== undefined) columns.set(key, { ...quantity, key, element });
  }
  return [...columns.values()];
}

/** Several elements may log one quantity; their columns then carry the element's name, and the user is asked. */
function headingsOf(columns: readonly Column[]): string[] {
  return columns.map(({ ddi, heading, unit, element }) => {
    const isShared = columns.filter((column) => column.ddi === ddi).length > 1;
    return `${heading}${isShared ? ` ${element.replace(/(\D)(\d)/, '$1 $2')}` : ''}${unit === null ? '' : ` (${unit})`}`;
  });
}

function loggedValues(logs: readonly TaskLog[], columns: readonly Column[], file: string): Problem[] {
  const all = new Set(logs.flatMap(loggedColumns).map(({ ddi }) => String(ddi)));
  const used = new Set(columns.map(({ ddi }) => String(ddi)));
  const unused = [...all].filter((ddi) => !used.has(ddi));
  return [intakeProblem('taskDataLogged', { file }, { used: [...used], unused })];
}

function rowsOfLog(
  log: TaskLog,
  columns: readonly Column[],
  carried: { count: number },
  file: string,
  problems: Problem[],
): string[][] {
  const last = new Map<string, number>();
  return recordsOf(log, file, problems).map((record) => [
    timeText(record),
    ...positionTexts(record),
    ...columns.map((column) => {
      const before = last.get(column.key);
      const now = valueIn(record, column.key);
      if (now !== null) last.set(column.key, now);
      if (column.isTotal) return now !== null && before !== undefined ? scaled(now - before, column) : '';
      if (now === null && before !== undefined) carried.count += 1;
      const value = now ?? before;
      return value === undefined ? '' : scaled(value, column);
    }),
  ]);
}

function scaled(value: number, { factor, unit }: LoggedQuantity): string {
  return unit === null ? String(value) : String(Number((value * factor).toPrecision(12)));
}
