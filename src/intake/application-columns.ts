import type { Problem } from '../trial/problem.ts';
import type { RateUnit } from '../trial/trial-document.ts';
import type { LoggedGround } from './application-log.ts';
import { columnRemarks } from './column-remarks.ts';
import { HEADER_NOT_RECORDED, readHeaderStates } from './header-states.ts';
import type { Quantity } from './known-units.ts';
import type { PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';
import { ratesFromFlow, speedsOnTrack } from './rates-from-flow.ts';
import { type ColumnReading, columnOf } from './recognise-columns.ts';
import type { ColumnRole } from './recognition.ts';
import { timesOf } from './row-times.ts';

/** Rates with the unit that they stand in inside; what tells where something was put out: the rates, or the flow behind them. */
export interface AppliedRates {
  readonly values: Float64Array | null;
  readonly unit: RateUnit | null;
  readonly putOut: Float64Array;
}

const RATES_BY: Readonly<Partial<Record<Quantity, RateUnit>>> = {
  volumePerArea: 'L/ha',
  volumePerTime: 'L/ha',
  countPerArea: 'seeds/ha',
  countPerTime: 'seeds/ha',
};

/**
 * Rates per area, or from a flow per time over speed and width. null where no column holds what was put out, which is
 * said. What is below 0 is taken as nothing.
 */
export function appliedRates(
  rows: PointRows,
  reading: ColumnReading,
  ground: LoggedGround,
  problems: Problem[],
): AppliedRates | null {
  if (columnOf(reading.recognition, 'appliedRate') === null) {
    const flow = notBelowZero('appliedFlow', rows, reading, problems);
    if (flow !== null) return ratesOfFlow(flow, rows, reading, ground, problems);
  }
  const values = notBelowZero('appliedRate', rows, reading, problems);
  if (values === null) {
    const { headings } = reading.recognition;
    problems.push(intakeProblem('noAppliedRate', { file: rows.file }, { headings }));
    return null;
  }
  return { values, unit: rateUnitOf('appliedRate', reading), putOut: values };
}

function rateUnitOf(role: 'appliedRate' | 'appliedFlow', { units }: ColumnReading): RateUnit {
  return RATES_BY[units.get(role)?.quantity ?? 'yield'] ?? 'kg/ha';
}

function notBelowZero(
  role: 'appliedRate' | 'appliedFlow',
  rows: PointRows,
  reading: ColumnReading,
  problems: Problem[],
): Float64Array | null {
  const values = numbersOf(role, rows, reading, problems);
  if (values === null) return null;
  const first = values.findIndex((value) => value < 0);
  if (first >= 0) {
    const column = columnOf(reading.recognition, role)?.heading ?? null;
    const place = { file: rows.file, row: rows.rowNumbers[first] ?? null, column };
    const details = { value: values[first] ?? null, count: values.filter((value) => value < 0).length };
    problems.push(intakeProblem('rateImpossible', place, details));
  }
  return values.map((value) => Math.max(value, 0));
}

function ratesOfFlow(
  flow: Float64Array,
  rows: PointRows,
  reading: ColumnReading,
  ground: LoggedGround,
  problems: Problem[],
): AppliedRates {
  const place = { file: rows.file, column: columnOf(reading.recognition, 'appliedFlow')?.heading ?? null };
  const unknown = { values: null, unit: null, putOut: flow };
  const logged = numbersOf('speed', rows, reading, problems);
  const speed = ground.kind === 'areas' ? null : (logged ?? speedsOnTrack(ground));
  if (ground.kind === 'areas' || speed === null) {
    problems.push(intakeProblem('flowWithoutSpeed', place, {}));
    return unknown;
  }
  const { ratePerHa, standing } = ratesFromFlow(flow, speed, ground);
  problems.push(intakeProblem(logged === null ? 'rateFromFlowOnTrack' : 'rateFromFlow', place, { standing }));
  return { values: ratePerHa, unit: rateUnitOf('appliedFlow', reading), putOut: flow };
}

/** By the state where the file has one, never with a rate of 0; else by the rate; else every row counts, which is said. */
export function appliedStates(
  rows: PointRows,
  reading: ColumnReading,
  putOut: Float64Array | null,
  problems: Problem[],
): Uint8Array {
  const states = statesOf(rows, reading, problems);
  const applied = new Uint8Array(rows.count);
  for (let i = 0; i < rows.count; i += 1) applied[i] = isApplied(states?.[i], putOut?.[i]) ? 1 : 0;
  if (states === null && putOut === null) {
    problems.push(intakeProblem('everyRowApplied', { file: rows.file }, { rows: rows.count }));
  }
  if (applied.every((one) => one === 0)) {
    problems.push(intakeProblem('nothingApplied', { file: rows.file }, { rows: rows.count }));
  }
  return applied;
}

/** A blank rate without a state is how many logs write "off". */
function isApplied(state: number | undefined, rate: number | undefined): boolean {
  if (rate === 0 || state === 0) return false;
  if (state === 1 || rate === undefined) return true;
  return rate > 0;
}

const SAID_ON = /^(?:spraying|applying|spreading|open|opened|ein|an)$/i;
const SAID_OFF = /^(?:closed|not spraying|not applying|aus|zu)$/i;

function statesOf(rows: PointRows, reading: ColumnReading, problems: Problem[]): Uint8Array | null {
  const column = columnOf(reading.recognition, 'sprayState');
  if (column === null) return null;
  const cells = rows.texts(column.columnIndex);
  const { states, unreadable } = readHeaderStates(
    cells.map((cell) => cell.trim().replace(SAID_ON, 'on').replace(SAID_OFF, 'off')),
  );
  if (states.every((state) => state === HEADER_NOT_RECORDED) && unreadable.count === 0) return null;
  if (unreadable.count > 0) {
    const { count, first, text } = unreadable;
    const place = { file: rows.file, row: rows.rowNumbers[first] ?? null, column: column.heading };
    problems.push(intakeProblem('sprayStateNotRead', place, { text, count }));
  }
  return states;
}

const LONGEST_NAME = 120;

/** Names of products, each once, in order of appearance; without such a column one blank name. */
export function productsOf(
  rows: PointRows,
  reading: ColumnReading,
): { readonly products: readonly string[]; readonly product: Int32Array } {
  const column = columnOf(reading.recognition, 'product');
  if (column === null) return { products: [''], product: new Int32Array(rows.count) };
  const numbers = new Map<string, number>();
  const product = Int32Array.from(rows.texts(column.columnIndex), (cell) => {
    const name = cell.trim().slice(0, LONGEST_NAME);
    const known = numbers.get(name) ?? numbers.size;
    numbers.set(name, known);
    return known;
  });
  return { products: [...numbers.keys()], product };
}

/** As logged; what is blank, and a log without widths, by what the user said. null: neither, which is asked. */
export function swathsOf(
  rows: PointRows,
  reading: ColumnReading,
  saidM: number | null,
  problems: Problem[],
): Float64Array | null {
  const logged = numbersOf('width', rows, reading, problems);
  if (logged === null && saidM === null) {
    const { headings, questions } = reading.recognition;
    const isAsked = questions.some(({ role }) => role === 'width');
    if (!isAsked) problems.push(intakeProblem('askSwath', { file: rows.file }, { headings }));
    return null;
  }
  if (logged === null) return new Float64Array(rows.count).fill(saidM ?? Number.NaN);
  return logged.map((width) => (Number.isNaN(width) ? (saidM ?? Number.NaN) : width));
}

/** Seconds since the first row; null where there is no time, or none that can be read. */
export function timesOfLog(
  rows: PointRows,
  reading: ColumnReading,
  problems: Problem[],
): Float64Array | null {
  const numbers = (role: ColumnRole) => numbersOf(role, rows, reading, problems);
  return timesOf({ rows, reading, problems, numbers }).timeS;
}

/** A column in SI; null where the file has none. Blank cells are said as a note, text as a warning. */
function numbersOf(
  role: ColumnRole,
  rows: PointRows,
  reading: ColumnReading,
  problems: Problem[],
): Float64Array | null {
  const column = columnOf(reading.recognition, role);
  if (column === null) return null;
  const read = rows.numbers(column.columnIndex);
  problems.push(...columnRemarks(read, column, rows));
  const factor = reading.units.get(role)?.factor ?? 1;
  return factor === 1 ? read.values.slice() : read.values.map((value) => value * factor);
}
