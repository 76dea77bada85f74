import type { Problem } from '../trial/problem.ts';
import { spreadCoarseTimes } from './coarse-clock.ts';
import { hasGaps } from './column-remarks.ts';
import { fillMissingTimes } from './missing-times.ts';
import { secondsOfDigits } from './number-clock.ts';
import type { PointRows } from './point-rows.ts';
import { carryOverMidnight, clockBackwards, clockTimes } from './point-times.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn } from './recognition.ts';

/** Rows on their way from columns to quantities. */
export interface RowsBeingRead {
  readonly rows: PointRows;
  readonly reading: ColumnReading;
  readonly problems: Problem[];
  /** Values of a role in SI, which may be changed in place; null where the file has no column for it. */
  readonly numbers: (role: ColumnRole) => Float64Array | null;
}

export interface TimesOfRows {
  readonly timeS: Float64Array | null;
  /** Seconds since 1970 where `timeS` is 0; null: no date stands in the file. */
  readonly startS: number | null;
}

const NO_TIMES: TimesOfRows = { timeS: null, startS: null };

/**
 * Times of rows, from a column of seconds or of a clock; what is wrong with them is added to the problems. Where the
 * rows lie tells a row that stands there twice from a clock that counts in long steps.
 */
export function timesOf(
  work: RowsBeingRead,
  at?: { readonly longitude: Float64Array; readonly latitude: Float64Array },
): TimesOfRows {
  const column = columnOf(work.reading.recognition, 'time');
  if (column === null) return NO_TIMES;
  const unit = work.reading.units.get('time');
  const times = unit === undefined ? clockOf(work, column) : timesOfNumbers(work, column, unit.name);
  if (times.timeS === null) return times;
  work.problems.push(...rowsWithoutTime(times.timeS, column, work.rows));
  work.problems.push(...clockBackwards(times.timeS, column, work.rows));
  return at === undefined ? times : withFineTimes(times, times.timeS, work, column, at);
}

function rowsWithoutTime(timeS: Float64Array, { heading }: RecognisedColumn, rows: PointRows): Problem[] {
  if (!hasGaps(timeS)) return [];
  const { filled, left, firstLeft } = fillMissingTimes(timeS);
  const { file, rowNumbers, count } = rows;
  const problems: Problem[] = [];
  if (filled > 0) problems.push(intakeProblem('timesFilledIn', { file, column: heading }, { count: filled }));
  if (left > 0) {
    const place = { file, row: rowNumbers[firstLeft] ?? null, column: heading };
    problems.push(intakeProblem('rowsWithoutTime', place, { count: left, of: count }));
  }
  return problems;
}

function withFineTimes(
  times: TimesOfRows,
  timeS: Float64Array,
  { rows, problems }: RowsBeingRead,
  { heading }: RecognisedColumn,
  at: { readonly longitude: Float64Array; readonly latitude: Float64Array },
): TimesOfRows {
  const coarse = spreadCoarseTimes(timeS, at.longitude, at.latitude);
  if (coarse === null) return times;
  const place = { file: rows.file, column: heading };
  if (coarse === 'still') {
    problems.push(intakeProblem('clockStandsStill', place, {}));
    return NO_TIMES;
  }
  const { count, stepS } = coarse;
  problems.push(intakeProblem('clockCoarse', place, { count, of: rows.count, stepS }));
  return times;
}

function clockOf(work: RowsBeingRead, column: RecognisedColumn): TimesOfRows {
  const times = clockTimes(work.rows.texts(column.columnIndex));
  if (times.unreadable.count > 0) {
    const { count, first, text } = times.unreadable;
    const place = { file: work.rows.file, row: work.rows.rowNumbers[first] ?? null, column: column.heading };
    work.problems.push(intakeProblem('timeNotRead', place, { text, count, of: work.rows.count }));
  }
  const timeS = times.secondsSinceFirst;
  return timeS.every(Number.isNaN) ? NO_TIMES : { timeS, startS: times.startS };
}

/** Seconds that reach into this century are counted from 1970, as clocks of computers do; smaller ones hold no date. */
const SECONDS_TO_2000 = 946_684_800;
const SECONDS_TO_2100 = 4_102_444_800;

/** Spreadsheets count days, and call the first of January 1970 day 25569. */
const SPREADSHEET_TO_1970_S = 25_569 * 86_400;

/** Digits are taken apart; a clock without a date that falls back by more than half a day passed midnight. */
function timesOfNumbers(work: RowsBeingRead, column: RecognisedColumn, unit: string): TimesOfRows {
  const numbers = work.numbers('time');
  if (numbers === null || !(unit === 'hhmmss' || unit === 'hhmm')) return sinceFirst(numbers, unit);
  const seconds = numbers.map((value) => secondsOfDigits(value, unit));
  const isUnread = (i: number) => Number.isNaN(seconds[i]) && !Number.isNaN(numbers[i]);
  const first = [...seconds.keys()].find(isUnread);
  if (first !== undefined) {
    const { file, rowNumbers, count } = work.rows;
    const place = { file, row: rowNumbers[first] ?? null, column: column.heading };
    const unread = [...seconds.keys()].filter(isUnread).length;
    const details = { text: String(numbers[first]), count: unread, of: count };
    work.problems.push(intakeProblem('timeNotRead', place, details));
  }
  carryOverMidnight(seconds);
  return sinceFirst(seconds, unit);
}

function sinceFirst(seconds: Float64Array | null, unit: string): TimesOfRows {
  const start = seconds?.find((value) => !Number.isNaN(value));
  if (seconds === null || start === undefined) return NO_TIMES;
  for (let i = 0; i < seconds.length; i += 1) seconds[i]! -= start;
  const since1970 = unit === 'days' ? start - SPREADSHEET_TO_1970_S : start;
  const isDated = since1970 >= SECONDS_TO_2000 && since1970 < SECONDS_TO_2100;
  return { timeS: seconds, startS: isDated ? since1970 : null };
}
