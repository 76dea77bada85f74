/// <reference path="./file-readers.d.ts" />
import type { ISOXMLManager, LoggedRecord, Task, TaskLog } from 'isoxml';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type ProductAt, productOfTask } from './allocated-products.ts';
import type { SwathPart } from './application-log.ts';
import { partsOn, type SectionStates, sectionsOf, statesInWord, widthOf } from './boom-sections.ts';
import { type DelimitedTable, tableOfCells } from './delimited-table.ts';
import { isInLine, isOfOneMachine, type MachineElement, machineElements } from './machine-elements.ts';
import { intakeProblem } from './problem-codes.ts';
import {
  isComplete,
  type LoggedColumn,
  loggedColumns,
  openTaskData,
  positionTexts,
  recordsOf,
  taskDataDamaged,
  timeText,
  valueIn,
} from './task-data.ts';

/** A rate per area of the data dictionary. */
export interface LoggedRate {
  readonly ddi: number;
  readonly unit: 'L/ha' | 'kg/ha' | 'count';
  /** Raw value × factor = value in the unit. */
  readonly factor: number;
  readonly isSetpoint: boolean;
}

/**
 * Identifiers, units and resolutions of ISO 11783-11, the measured before the demanded: volume per area in 0.01 mm³/m²
 * or 0.1 ml/m², mass per area in mg/m², count per area in 0.001 /m².
 */
export const LOGGED_RATES: readonly LoggedRate[] = [
  { ddi: 2, unit: 'L/ha', factor: 1e-4, isSetpoint: false },
  { ddi: 589, unit: 'L/ha', factor: 1, isSetpoint: false },
  { ddi: 7, unit: 'kg/ha', factor: 0.01, isSetpoint: false },
  { ddi: 12, unit: 'count', factor: 10, isSetpoint: false },
  { ddi: 1, unit: 'L/ha', factor: 1e-4, isSetpoint: true },
  { ddi: 588, unit: 'L/ha', factor: 1, isSetpoint: true },
  { ddi: 6, unit: 'kg/ha', factor: 0.01, isSetpoint: true },
  { ddi: 11, unit: 'count', factor: 10, isSetpoint: true },
];
const WORKING_WIDTH = 67;
const WORK_STATE = 141;
const CONDENSED_FIRST = 161;
const CONDENSED_LAST = 176;
/** Yield per area or time, wet or dry: what such a log is of was cut, not put out. */
const HARVESTED = [83, 84, 86, 87, 181, 182];

/** What one tank put out: a table of points, and which parts of the boom were on. */
export interface AppliedTable {
  readonly table: DelimitedTable;
  /** By row; null: the whole width. */
  readonly parts: readonly (readonly SwathPart[] | null)[];
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
    return appliedTables(opened.value, file, await areTimesPlain(opened.value));
  } catch (error) {
    return failure(taskDataDamaged(error, file));
  }
}

/** Times with a zone are not those of the log's own clock. */
async function areTimesPlain(manager: ISOXMLManager): Promise<boolean> {
  const text = (await manager.getParsedFile('TASKDATA.XML', false)) ?? '';
  return !/<ASP\b[^>]*\b[AB]\s*=\s*"[^"]*(?:Z|[+-]\d\d:?\d\d)"/.test(text);
}

interface Reading {
  readonly file: string;
  readonly elements: ReadonlyMap<string, MachineElement>;
  readonly problems: Problem[];
  readonly areTimesKnown: boolean;
  /** The name of each task stands for its product where no task says what was put out. */
  readonly areTasksProducts: boolean;
  carried: number;
  notPlaced: number;
  notAllocated: number;
}

/** Rows of one element, over all logs. */
interface Tank {
  readonly unit: LoggedRate['unit'] | null;
  readonly rows: string[][];
  readonly parts: (readonly SwathPart[] | null)[];
}

function appliedTables(
  manager: ISOXMLManager,
  file: string,
  areTimesKnown: boolean,
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
  const areNamed = given.some(({ task }) => productOfTask(task, null, elements, true)(0) !== '');
  const named = new Set(given.map(({ task }) => taskName(task)));
  const reading: Reading = {
    file,
    elements,
    problems,
    areTimesKnown,
    areTasksProducts: !areNamed && named.size > 1,
    carried: 0,
    notPlaced: 0,
    notAllocated: 0,
  };
  const tanks = new Map<string, Tank>();
  for (const { task, log, columns } of given) addLog(tanks, task, log, columns, reading);
  problems.push(
    ...remarks(
      given.flatMap(({ columns }) => columns),
      tanks,
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

function isCondensed(ddi: number): boolean {
  return ddi >= CONDENSED_FIRST && ddi <= CONDENSED_LAST;
}

function remarks(
  columns: readonly LoggedColumn[],
  tanks: ReadonlyMap<string, Tank>,
  reading: Reading,
): Problem[] {
  const { file } = reading;
  const all = [...new Set(columns.map(({ ddi }) => ddi))];
  const isUsed = (ddi: number) =>
    rateOf(ddi) !== null || ddi === WORKING_WIDTH || ddi === WORK_STATE || isCondensed(ddi);
  const used = all.filter(isUsed).map(String);
  const unused = all.filter((ddi) => !isUsed(ddi)).map(String);
  const rates = all.flatMap((ddi) => rateOf(ddi) ?? []);
  const isDemanded = rates.length > 0 && rates.every(({ isSetpoint }) => isSetpoint);
  const units = new Set([...tanks.values()].map(({ unit }) => unit));
  return [
    intakeProblem('taskDataLogged', { file }, { used, unused }),
    ...(reading.carried > 0
      ? [intakeProblem('taskDataCarriedOn', { file }, { count: reading.carried })]
      : []),
    ...(isDemanded ? [intakeProblem('rateIsSetpoint', { file }, {})] : []),
    ...(units.has('count') ? [intakeProblem('rateByCount', { file }, {})] : []),
    ...(reading.notPlaced > 0
      ? [intakeProblem('sectionsNotPlaced', { file }, { count: reading.notPlaced })]
      : []),
    ...(reading.notAllocated > 0
      ? [intakeProblem('productNotAllocated', { file }, { count: reading.notAllocated })]
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
  for (const { unit, rows, parts } of tanks) {
    const rate = unit === null || unit === 'count' ? 'Count per area' : `Applied rate (${unit})`;
    const headings = ['Time', 'Longitude', 'Latitude', rate, 'Working width (m)', 'Spray state', 'Product'];
    // What no row knows has no column: it is asked then, or taken as the reader of tables takes it.
    const kept = headings.flatMap((_, c) => (c < 3 || rows.some((row) => row[c] !== '') ? [c] : []));
    const cut = (row: readonly string[]) => kept.map((c) => row[c] ?? '');
    const table = tableOfCells(cut(headings), rows.map(cut), file);
    if (!table.ok) return table;
    tables.push({ table: table.value, parts });
  }
  return success(tables, problems);
}

function rateOf(ddi: number): LoggedRate | null {
  return LOGGED_RATES.find((rate) => rate.ddi === ddi) ?? null;
}

function taskName({ attributes }: Task): string {
  return attributes.TaskDesignator?.trim() ?? '';
}

/** An element that puts something out, with the columns that tell of it. */
interface Outlet {
  readonly id: string;
  readonly rates: readonly { readonly rate: LoggedRate; readonly column: LoggedColumn }[];
  readonly width: LoggedColumn | null;
  /** Fixed, in metres; null: not described. */
  readonly describedM: number | null;
  readonly masters: readonly LoggedColumn[];
  readonly condensed: readonly LoggedColumn[];
  readonly boom: MachineElement | null;
}

function addLog(
  tanks: Map<string, Tank>,
  task: Task,
  log: TaskLog,
  columns: readonly LoggedColumn[],
  reading: Reading,
): void {
  const records = recordsOf(log, reading.file, reading.problems);
  for (const outlet of outletsOf(columns, reading.elements)) {
    const unit = outlet.rates[0]?.rate.unit ?? null;
    const key = `${outlet.id} ${unit}`;
    const tank = tanks.get(key) ?? { unit, rows: [], parts: [] };
    tanks.set(key, tank);
    const element = reading.elements.get(outlet.id) ?? null;
    const productAt = reading.areTasksProducts
      ? () => taskName(task)
      : productOfTask(task, element, reading.elements, reading.areTimesKnown);
    addRecords(tank, records, outlet, productAt, reading);
  }
}

/**
 * One outlet for each element that logs a rate. Sections are parts of the boom that they belong to, whose own rate
 * counts where it logs one; a machine that logs a rate beside its tanks logs their sum.
 */
function outletsOf(
  columns: readonly LoggedColumn[],
  elements: ReadonlyMap<string, MachineElement>,
): readonly Outlet[] {
  const groups = new Map<string, { rate: LoggedRate; column: LoggedColumn }[]>();
  for (const column of bestRates(columns)) {
    const rate = rateOf(column.ddi)!;
    const own = elements.get(column.element);
    const id = own?.kind === 'section' && own.parent !== null ? own.parent.id : column.element;
    groups.set(id, [...(groups.get(id) ?? []), { rate, column }]);
  }
  if (groups.size === 0) return [outletOf('', [], columns, elements)];
  const isOfTanks = (id: string) =>
    [...groups.keys()].some((other) => {
      const [whole, part] = [elements.get(id), elements.get(other)];
      return other !== id && part?.kind === 'bin' && whole !== undefined && isInLine(whole, part);
    });
  return [...groups]
    .filter(([id]) => elements.get(id)?.kind === 'bin' || !isOfTanks(id))
    .map(([id, rates]) => {
      const own = rates.filter(({ column }) => column.element === id);
      const unit = (own[0] ?? rates[0])!.rate.unit;
      const alike = (own.length > 0 ? own : rates).filter(({ rate }) => rate.unit === unit);
      return outletOf(id, alike, columns, elements);
    });
}

/** One rate an element: the measured one before the demanded. */
function bestRates(columns: readonly LoggedColumn[]): readonly LoggedColumn[] {
  const best = new Map<string, LoggedColumn>();
  const rank = ({ ddi }: LoggedColumn) => LOGGED_RATES.findIndex((rate) => rate.ddi === ddi);
  for (const column of columns) {
    if (rank(column) < 0) continue;
    const known = best.get(column.element);
    if (known === undefined || rank(column) < rank(known)) best.set(column.element, column);
  }
  return [...best.values()];
}

function outletOf(
  id: string,
  rates: Outlet['rates'],
  columns: readonly LoggedColumn[],
  elements: ReadonlyMap<string, MachineElement>,
): Outlet {
  const own = elements.get(id) ?? null;
  /** Of the element, else in line with it, else of the same machine; sections speak for themselves alone. */
  const nearest = (wanted: (ddi: number) => boolean): readonly LoggedColumn[] => {
    const all = columns.filter(
      ({ ddi, element }) => wanted(ddi) && elements.get(element)?.kind !== 'section',
    );
    const exact = all.filter(({ element }) => element === id);
    if (exact.length > 0 || own === null) return exact.length > 0 ? exact : all;
    const ofElement = (holds: (a: MachineElement, b: MachineElement) => boolean) =>
      all.filter(({ element }) => {
        const other = elements.get(element);
        return other === undefined || holds(own, other);
      });
    const inLine = ofElement(isInLine);
    return inLine.length > 0 ? inLine : ofElement(isOfOneMachine);
  };
  const condensed = nearest(isCondensed);
  const boomId = condensed[0]?.element;
  const boom = (boomId === undefined ? own : elements.get(boomId)) ?? null;
  const widthMm = [boom, own, own?.parent ?? null].flatMap((one) =>
    one === null ? [] : (widthOf(one) ?? []),
  )[0];
  return {
    id,
    rates,
    width: nearest((ddi) => ddi === WORKING_WIDTH)[0] ?? null,
    describedM: widthMm === undefined ? null : widthMm / 1000,
    masters: nearest((ddi) => ddi === WORK_STATE),
    condensed: condensed.filter(({ element }) => element === boomId),
    boom,
  };
}

function addRecords(
  tank: Tank,
  records: readonly LoggedRecord[],
  outlet: Outlet,
  productAt: ProductAt,
  reading: Reading,
): void {
  const sections = outlet.boom === null ? null : sectionsOf(outlet.boom);
  const count = outlet.boom?.children.filter(({ kind }) => kind === 'section').length ?? 0;
  const extentM = sections === null ? null : sections.at(-1)!.rightM - sections[0]!.leftM;
  const last = new Map<string, number>();
  const kept = [...outlet.rates.map(({ column }) => column), ...outlet.masters, ...outlet.condensed];
  const followed = outlet.width === null ? kept : [...kept, outlet.width];
  for (const record of records) {
    for (const { key } of followed) {
      const now = valueIn(record, key);
      if (now !== null) last.set(key, now);
      else if (last.has(key)) reading.carried += 1;
    }
    // Where the machine is described, words hold more places than it has sections.
    const states = sectionStates(outlet.condensed, last).slice(0, count > 0 ? count : undefined);
    const state = stateOf(outlet.masters, states, last);
    const isPartly = state === 'on' && states.includes(true) && states.includes(false);
    const parts = isPartly ? partsOn(states, sections) : null;
    if (isPartly && parts === null) reading.notPlaced += 1;
    const product = productAt(record.time.getTime());
    if (product === null) reading.notAllocated += 1;
    tank.parts.push(parts);
    tank.rows.push([
      timeText(record),
      ...positionTexts(record),
      rateText(outlet.rates, last),
      widthText(outlet, last, extentM),
      state,
      product ?? '',
    ]);
  }
}

function sectionStates(condensed: readonly LoggedColumn[], last: ReadonlyMap<string, number>): SectionStates {
  return [...condensed]
    .sort((a, b) => a.ddi - b.ddi)
    .flatMap(({ ddi, key }) => {
      const word = last.get(key);
      const states = word === undefined ? [] : statesInWord(word);
      const first = 16 * (ddi - CONDENSED_FIRST);
      return states.map((state, k) => ({ state, at: first + k }));
    })
    .reduce<(boolean | null)[]>((all, { state, at }) => {
      while (all.length < at) all.push(null);
      all[at] = state;
      return all;
    }, []);
}

/** Off where the whole is off, or all its sections; a state that is neither on nor off says nothing. */
function stateOf(
  masters: readonly LoggedColumn[],
  states: SectionStates,
  last: ReadonlyMap<string, number>,
): 'on' | 'off' | '' {
  const said = masters
    .flatMap(({ key }) => last.get(key) ?? [])
    .filter((state) => state === 0 || state === 1);
  if (said.length > 0 && !said.includes(1)) return 'off';
  if (states.includes(true)) return 'on';
  if (states.includes(false)) return 'off';
  return said.includes(1) ? 'on' : '';
}

/** Of several sections the mean of those that put something out. */
function rateText(rates: Outlet['rates'], last: ReadonlyMap<string, number>): string {
  const raw = rates.flatMap(({ rate, column }) => {
    const value = last.get(column.key);
    return value === undefined ? [] : [value * rate.factor];
  });
  if (raw.length === 0) return '';
  const above = raw.filter((value) => value > 0);
  const mean = above.length === 0 ? raw[0]! : above.reduce((sum, value) => sum + value, 0) / above.length;
  return String(Number(mean.toPrecision(12)));
}

function widthText(
  { width, describedM }: Outlet,
  last: ReadonlyMap<string, number>,
  extentM: number | null,
): string {
  const logged = width === null ? undefined : last.get(width.key);
  const widthM = logged === undefined ? (describedM ?? extentM) : logged / 1000;
  return widthM === null ? '' : String(Number(widthM.toPrecision(12)));
}
