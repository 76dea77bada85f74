/// <reference path="./file-readers.d.ts" />
import type { ISOXMLManager, Task, TaskLog } from 'isoxml';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { productOfTask } from './allocated-products.ts';
import { type StampForm, stampForm, toLogClock } from './allocation-clock.ts';
import {
  ACTUAL_SPEED,
  HARVESTED,
  isCondensed,
  LOGGED_RATES,
  type LoggedRate,
  quantityWords,
  rateOf,
  WORK_STATE,
  WORKING_WIDTH,
} from './application-identifiers.ts';
import type { SwathPart } from './application-log.ts';
import { appliedRecords } from './applied-records.ts';
import { type BoomOffset, boomOffset } from './boom-offset.ts';
import { type DelimitedTable, tableOfCells } from './delimited-table.ts';
import { type MachineElement, machineElements } from './machine-elements.ts';
import { outletsOf } from './machine-outlets.ts';
import { intakeProblem } from './problem-codes.ts';
import {
  isComplete,
  type LoggedColumn,
  loggedColumns,
  openTaskData,
  recordsOf,
  taskDataDamaged,
} from './task-data.ts';

/** What one tank put out: a table of points, and which parts of the boom were on. */
export interface AppliedTable {
  readonly table: DelimitedTable;
  /** By row; null: the whole width. */
  readonly parts: readonly (readonly SwathPart[] | null)[];
  /** null: the description does not place the boom, or tasks differ. */
  readonly offset: BoomOffset | null;
}

/** Do the logs hold what was put out, and nothing that was harvested? */
export function isOfApplication(manager: ISOXMLManager): boolean {
  const logs = (manager.rootElement.attributes.Task ?? []).flatMap(
    ({ attributes }) => attributes.TimeLog ?? [],
  );
  const ddis = new Set(logs.flatMap(loggedColumns).map(({ ddi }) => ddi));
  return !HARVESTED.some((ddi) => ddis.has(ddi)) && LOGGED_RATES.some(({ ddi }) => ddis.has(ddi));
}

/**
 * The time logs of ISO 11783-10 task data as tables of what was put out, one for each element of the machine that logs a
 * rate (a tank, a boom): position, rate, width, state, and the product that the task allocates to it. A record holds
 * only what was logged at that moment, so values stand until the next of their kind in the log.
 */
export async function appliedTablesOfTaskData(
  bytes: Uint8Array,
  file: string,
): Promise<Outcome<readonly AppliedTable[]>> {
  const opened = await openTaskData(bytes, file);
  if (!opened.ok) return opened;
  try {
    return appliedTables(opened.value, file, await stampForm(opened.value));
  } catch (error) {
    return failure(taskDataDamaged(error, file));
  }
}

interface Reading {
  readonly file: string;
  readonly elements: ReadonlyMap<string, MachineElement>;
  readonly problems: Problem[];
  readonly stamps: StampForm;
  /** The name of each task stands for its product where no task says what was put out. */
  readonly areTasksProducts: boolean;
  carried: number;
  notPlaced: number;
  notAllocated: number;
  /** Of these, by the zone of the allocations’ times alone. */
  ofOtherClock: number;
}

/** Rows of one element, over all logs. */
interface Tank {
  readonly unit: LoggedRate['unit'] | null;
  readonly rows: string[][];
  readonly parts: (readonly SwathPart[] | null)[];
  readonly offsets: (BoomOffset | null)[];
}

function appliedTables(
  manager: ISOXMLManager,
  file: string,
  stamps: StampForm,
): Outcome<readonly AppliedTable[]> {
  const elements = machineElements(manager);
  const problems: Problem[] = [];
  const tasks = manager.rootElement.attributes.Task ?? [];
  const given = tasks.flatMap((task) =>
    (task.attributes.TimeLog ?? [])
      .filter((log) => isComplete(log, file, problems))
      .map((log) => ({ task, log, columns: loggedColumns(log) }))
      .filter(({ columns }) => holdsApplication(columns)),
  );
  if (given.length === 0) {
    const logged = new Set(
      tasks
        .flatMap(({ attributes }) => attributes.TimeLog ?? [])
        .flatMap(loggedColumns)
        .map(({ ddi }) => String(ddi)),
    );
    return failure(...problems, intakeProblem('taskDataNotApplied', { file }, { logged: [...logged] }));
  }
  const areNamed = given.some(
    ({ task }) => productOfTask(task, null, elements, (time) => time.getTime())(0) !== '',
  );
  const named = new Set(given.map(({ task }) => taskName(task)));
  const reading: Reading = {
    file,
    elements,
    problems,
    stamps,
    areTasksProducts: !areNamed && named.size > 1,
    carried: 0,
    notPlaced: 0,
    notAllocated: 0,
    ofOtherClock: 0,
  };
  const tanks = new Map<string, Tank>();
  for (const { task, log, columns } of given) addLog(tanks, task, log, columns, reading);
  problems.push(
    ...remarks(
      given.flatMap(({ columns }) => columns),
      reading,
    ),
  );
  return tablesOf(
    [...tanks.values()].filter(({ rows }) => rows.length > 0),
    file,
    problems,
  );
}

function holdsApplication(columns: readonly LoggedColumn[]): boolean {
  const holds = (ddis: readonly number[]) => columns.some(({ ddi }) => ddis.includes(ddi));
  const isOfRate = holds(LOGGED_RATES.map(({ ddi }) => ddi));
  return isOfRate || (!holds(HARVESTED) && columns.some(({ ddi }) => ddi === WORK_STATE || isCondensed(ddi)));
}

function remarks(columns: readonly LoggedColumn[], reading: Reading): Problem[] {
  const { file } = reading;
  const all = [...new Set(columns.map(({ ddi }) => ddi))];
  const isUsed = (ddi: number) =>
    rateOf(ddi) !== null || [WORKING_WIDTH, WORK_STATE, ACTUAL_SPEED].includes(ddi) || isCondensed(ddi);
  const used = all.filter(isUsed).map((ddi) => `${ddi} (${quantityWords(ddi)})`);
  const unused = all.filter((ddi) => !isUsed(ddi)).map(String);
  const rates = all.flatMap((ddi) => rateOf(ddi) ?? []);
  const isDemanded = rates.length > 0 && rates.every(({ isSetpoint }) => isSetpoint);
  return [
    intakeProblem('taskDataLogged', { file }, { used, unused }),
    ...(reading.carried > 0
      ? [intakeProblem('taskDataCarriedOn', { file }, { count: reading.carried })]
      : []),
    ...(isDemanded ? [intakeProblem('rateIsSetpoint', { file }, {})] : []),
    ...(reading.notPlaced > 0
      ? [intakeProblem('sectionsNotPlaced', { file }, { count: reading.notPlaced })]
      : []),
    ...(reading.notAllocated > 0
      ? [intakeProblem('productNotAllocated', { file }, { count: reading.notAllocated })]
      : []),
    ...(reading.ofOtherClock > 0
      ? [intakeProblem('allocationClockUnknown', { file }, { count: reading.ofOtherClock })]
      : []),
    ...(reading.areTasksProducts ? [intakeProblem('taskNamesAsProducts', { file }, {})] : []),
  ];
}

function tablesOf(
  tanks: readonly Tank[],
  file: string,
  problems: readonly Problem[],
): Outcome<readonly AppliedTable[]> {
  if (tanks.length === 0) {
    return failure(...problems, intakeProblem('taskDataWithoutLogs', { file }, { tasks: 0 }));
  }
  const tables: AppliedTable[] = [];
  for (const { unit, rows, parts, offsets } of tanks) {
    const rate = unit?.endsWith('/s') ? `Flow (${unit})` : `Applied rate (${unit ?? ''})`;
    const headings = [
      ...['Time', 'Longitude', 'Latitude', rate, 'Working width (m)', 'Speed (m/s)', 'Spray state'],
      'Product',
    ];
    // What no row knows has no column: it is asked then, or taken as the reader of tables takes it.
    const kept = headings.flatMap((_, c) => (c < 3 || rows.some((row) => row[c] !== '') ? [c] : []));
    const cut = (row: readonly string[]) => kept.map((c) => row[c] ?? '');
    const table = tableOfCells(cut(headings), rows.map(cut), file);
    if (!table.ok) return table;
    tables.push({ table: table.value, parts, offset: commonOf(offsets) });
  }
  return success(tables, problems);
}

function commonOf([first, ...others]: readonly (BoomOffset | null)[]): BoomOffset | null {
  const isAlike = others.every(
    (other) => other?.behindM === first?.behindM && other?.asideM === first?.asideM,
  );
  return isAlike ? (first ?? null) : null;
}

function taskName({ attributes }: Task): string {
  return attributes.TaskDesignator?.trim() ?? '';
}

function addLog(
  tanks: Map<string, Tank>,
  task: Task,
  log: TaskLog,
  columns: readonly LoggedColumn[],
  reading: Reading,
): void {
  const records = recordsOf(log, reading.file, reading.problems);
  const clock = toLogClock(reading.stamps, records);
  for (const outlet of outletsOf(columns, reading.elements)) {
    const unit = outlet.rates[0]?.rate.unit ?? null;
    const key = `${outlet.id} ${unit}`;
    const tank = tanks.get(key) ?? { unit, rows: [], parts: [], offsets: [] };
    tanks.set(key, tank);
    const element = reading.elements.get(outlet.id) ?? null;
    tank.offsets.push(boomOffset(outlet.boom ?? element, task, reading.elements));
    const productAt = reading.areTasksProducts
      ? () => taskName(task)
      : productOfTask(task, element, reading.elements, clock);
    const read = appliedRecords(records, outlet, productAt);
    for (const row of read.rows) tank.rows.push(row);
    for (const part of read.parts) tank.parts.push(part);
    reading.carried += read.carried;
    reading.notPlaced += read.notPlaced;
    if (clock === null) reading.ofOtherClock += read.notAllocated;
    else reading.notAllocated += read.notAllocated;
  }
}
