import type { Problem } from '../trial/problem.ts';
import { type CellTally, tallyOf } from './number-column.ts';
import type { PointRows } from './point-rows.ts';
import { intakeProblem } from './problem-codes.ts';

/** Seconds since the first readable time of a column of clock times; NaN where a cell could not be read. */
export interface ClockTimes {
  readonly secondsSinceFirst: Float64Array;
  readonly unreadable: CellTally;
  /** Of the first readable time, since 1970; null: the column holds clock times without a date. */
  readonly startS: number | null;
}

const SECONDS_PER_DAY = 86_400;
const CLOCK = String.raw`(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([AaPp]\.?[Mm]\.?)?`;
const ZONE = String.raw`(Z|z|UTC|GMT|[+-]\d{2}(?::?\d{2})?)?`;
const ISO = new RegExp(String.raw`^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[Tt ]\s*${CLOCK}\s*${ZONE})?$`);
const COMPACT = new RegExp(
  String.raw`^(\d{4})(\d{2})(\d{2})[Tt _-]?(\d{2})(\d{2})(\d{2}(?:[.,]\d+)?)\s*${ZONE}$`,
);
const DATE_FIRST = new RegExp(String.raw`^(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})[ ,T]+${CLOCK}$`);
const DAY_MONTH_NAME = new RegExp(
  String.raw`^(\d{1,2})[ .-]+(\p{L}{3,9})\.?[ ,.-]+(\d{4}|\d{2})[ ,T]+${CLOCK}$`,
  'u',
);
const MONTH_NAME_DAY = new RegExp(String.raw`^(\p{L}{3,9})\.? +(\d{1,2}),? +(\d{4}),?[ T]+${CLOCK}$`, 'u');
const CLOCK_ALONE = new RegExp(`^${CLOCK}$`);
/** The first three letters of the months in a few languages, accents off. */
const MONTHS: readonly (readonly string[])[] = [
  ['jan', 'ene', 'gen'],
  ['feb', 'fev'],
  ['mar', 'mrz'],
  ['apr', 'avr', 'abr'],
  ['may', 'mai', 'mag'],
  ['jun', 'giu'],
  ['jul', 'lug'],
  ['aug', 'ago', 'aou'],
  ['sep', 'set'],
  ['oct', 'okt', 'out', 'ott'],
  ['nov'],
  ['dec', 'dez', 'dic'],
];

/**
 * ISO 8601 dates and times, with or without their marks, dates with the month's name, clock times alone, and
 * day.month.year or month/day/year with a clock time where the file itself shows which of the two comes first. A clock that falls back by more than half a day passed midnight.
 */
export function clockTimes(cells: readonly string[]): ClockTimes {
  const dayFirst = dayComesFirst(cells);
  const seconds = Float64Array.from(cells, (cell) => secondsOf(cell.trim(), dayFirst));
  const aloneOnly = cells.every((cell) => cell.trim() === '' || CLOCK_ALONE.test(cell.trim()));
  if (aloneOnly) carryOverMidnight(seconds);
  const start = seconds.find((value) => !Number.isNaN(value)) ?? Number.NaN;
  const isUnreadable = (index: number) => Number.isNaN(seconds[index]) && cells[index]?.trim() !== '';
  return {
    secondsSinceFirst: seconds.map((value) => value - start),
    unreadable: tallyOf(cells, isUnreadable),
    startS: aloneOnly || Number.isNaN(start) ? null : start,
  };
}

const DATE_ALONE = /^(?:\d{4}([-/.])\d{1,2}\1\d{1,2}|\d{1,2}([-/.])\d{1,2}\2(?:\d{4}|\d{2}))$/;

/** Do the cells say on which day but not when? */
export function datesAlone(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  return filled.length > 0 && filled.every((cell) => DATE_ALONE.test(cell.trim()));
}

/** With dots the day comes first; with other separators a number above 12 tells, or one date alone in the file. */
function dayComesFirst(cells: readonly string[]): boolean | null {
  const dates = new Set<string>();
  for (const cell of cells) {
    const match = DATE_FIRST.exec(cell.trim());
    if (match === null) continue;
    if (match[2] === '.' || Number(match[1]) > 12) return true;
    if (Number(match[3]) > 12) return false;
    dates.add(`${match[1]}/${match[3]}/${match[4]}`);
  }
  return dates.size === 1 ? true : null;
}

function secondsOf(text: string, dayFirst: boolean | null): number {
  const iso = ISO.exec(text);
  if (iso !== null) {
    const clock = iso[5] === undefined ? 0 : clockSeconds(iso.slice(5, 9));
    return dateSeconds(iso[1], iso[3], iso[4]) + clock - zoneSeconds(iso[9]);
  }
  const compact = COMPACT.exec(text);
  if (compact !== null) {
    const clock = clockSeconds(compact.slice(4, 7));
    return dateSeconds(compact[1], compact[2], compact[3]) + clock - zoneSeconds(compact[7]);
  }
  const dated = DATE_FIRST.exec(text);
  if (dated !== null) {
    if (dayFirst === null) return Number.NaN;
    const [day, month] = dayFirst ? [dated[1], dated[3]] : [dated[3], dated[1]];
    return dateSeconds(dated[4], month, day) + clockSeconds(dated.slice(5, 9));
  }
  const alone = CLOCK_ALONE.exec(text);
  return alone === null ? secondsWithMonthName(text) : clockSeconds(alone.slice(1, 5));
}

function secondsWithMonthName(text: string): number {
  const dayFirst = DAY_MONTH_NAME.exec(text);
  if (dayFirst !== null) {
    return dateSeconds(dayFirst[3], monthNumber(dayFirst[2]), dayFirst[1]) + clockSeconds(dayFirst.slice(4));
  }
  const monthFirst = MONTH_NAME_DAY.exec(text);
  if (monthFirst === null) return Number.NaN;
  const month = monthNumber(monthFirst[1]);
  return dateSeconds(monthFirst[3], month, monthFirst[2]) + clockSeconds(monthFirst.slice(4));
}

function monthNumber(name = ''): string {
  const plain = name.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().slice(0, 3);
  const index = MONTHS.findIndex((spellings) => spellings.includes(plain));
  return index < 0 ? 'none' : String(index + 1);
}

/** A year of two digits is of this century. */
function dateSeconds(year = '', month = '', day = ''): number {
  const full = year.length === 2 ? 2000 + Number(year) : Number(year);
  return dayNumber(full, Number(month), Number(day)) * SECONDS_PER_DAY;
}

/** Days since 1970; NaN where the calendar has no such day. Date.UTC is plain arithmetic, not a clock. */
function dayNumber(year: number, month: number, day: number): number {
  const time = Date.UTC(year, month - 1, day);
  const date = new Date(time);
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day
    ? time / 1000 / SECONDS_PER_DAY
    : Number.NaN;
}

function clockSeconds(parts: readonly (string | undefined)[]): number {
  const [hourText, minuteText, secondText = '0', half] = parts;
  let hour = Number(hourText);
  if (half !== undefined) hour = (hour % 12) + (half.toLowerCase().startsWith('p') ? 12 : 0);
  const minute = Number(minuteText);
  const second = Number(secondText.replace(',', '.'));
  return hour > 24 || minute > 59 || second >= 61 ? Number.NaN : hour * 3600 + minute * 60 + second;
}

function zoneSeconds(zone: string | undefined): number {
  if (zone === undefined || !/^[+-]/.test(zone)) return 0;
  const sign = zone.startsWith('-') ? -1 : 1;
  const minutes = zone.length > 3 ? Number(zone.slice(-2)) : 0;
  return sign * (Number(zone.slice(1, 3)) * 3600 + minutes * 60);
}

export function carryOverMidnight(seconds: Float64Array): void {
  let days = 0;
  let before = Number.NaN;
  for (let index = 0; index < seconds.length; index += 1) {
    const now = seconds[index] ?? Number.NaN;
    if (Number.isNaN(now)) continue;
    if (before - now > SECONDS_PER_DAY / 2) days += 1;
    before = now;
    seconds[index] = now + days * SECONDS_PER_DAY;
  }
}

/** Times that run backwards from row to row: logs joined end to end, rows out of order, or a clock that was set. */
export function clockBackwards(
  timeS: Float64Array,
  column: { readonly heading: string },
  rows: PointRows,
): Problem[] {
  let [count, first, largestS, before] = [0, -1, 0, Number.NaN];
  for (let index = 0; index < timeS.length; index += 1) {
    const now = timeS[index]!;
    if (Number.isNaN(now)) continue;
    if (now < before) {
      if (count === 0) first = index;
      count += 1;
      largestS = Math.max(largestS, before - now);
    }
    before = now;
  }
  if (count === 0) return [];
  const place = { file: rows.file, row: rows.rowNumbers[first] ?? null, column: column.heading };
  return [intakeProblem('clockBackwards', place, { count, largestS: Math.round(largestS) })];
}
