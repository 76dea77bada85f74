import { describe, expect, test } from 'vitest';
import { readPoints } from '../../src/intake/read-points.ts';
import type { HarvestFile } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const points = (text: string, columns: HarvestFile['columns'] = {}) =>
  readPoints(asBytes(text), 'y.csv', { path: 'y.csv', kind: 'points', columns, yieldColumns: [] }, null);

const START_S = 8 * 3600 + 58 * 60 + 20;
const two = (value: number) => String(value).padStart(2, '0');
/** Of the same 200 rows, two seconds apart, over the full hour. */
const SECONDS = Array.from({ length: 200 }, (_, i) => START_S + 2 * i);
const digits = (s: number) => `${two(Math.floor(s / 3600))}${two(Math.floor(s / 60) % 60)}${two(s % 60)}`;

const file = (heading: string, write: (s: number) => string, seconds = SECONDS) =>
  points(
    `Lon,Lat,Yield (t/ha),${heading}\n${seconds.map((s, i) => `${11.5 + i * 1e-5},48.1,9.5,${write(s)}`).join('\n')}\n`,
  );

describe('a clock written as a number', () => {
  const EXPECTED = SECONDS.map((s) => s - START_S);
  test.each([
    ['digits with a zero before the hour', 'Time', digits],
    [
      'digits without it, by their jumps from minute to minute',
      'Time',
      (s: number) => String(Number(digits(s))),
    ],
    ['digits with hundredths', 'GPS time', (s: number) => `${digits(s)}.00`],
    ['digits by the heading', 'Time (HHMMSS)', (s: number) => String(Number(digits(s)))],
    ['days of a spreadsheet', 'Time', (s: number) => String(45_000 + s / 86_400)],
    ['shares of the day', 'Time', (s: number) => String(s / 86_400)],
    ['seconds of the day', 'Seconds since midnight', String],
    ['a form over clock times', 'Time (hhmmss)', (s: number) => digits(s).replace(/(..)(..)/, '$1:$2:')],
  ])('%s', (_, heading, write) => {
    const outcome = file(heading, write);
    const { timeS } = taken(outcome);
    for (const [i, expected] of EXPECTED.entries()) expect(timeS?.[i]).toBeCloseTo(expected, 2);
    expect(codesOf(outcome)).toEqual([]);
  });

  test('over midnight it goes on', () => {
    const late = SECONDS.map((s) => s + 15 * 3600);
    const { timeS } = taken(file('Time', (s) => digits(s % 86_400), late));
    for (const [i, expected] of EXPECTED.entries()) expect(timeS?.[i]).toBe(expected);
  });

  test('minutes alone by their heading; digits that are no time are said', () => {
    const minutes = taken(file('Time (hhmm)', (s) => digits(s).slice(0, 4)));
    expect(minutes.timeS?.at(-1)).toBeCloseTo(EXPECTED.at(-1)!, -2);
    const odd = file('Time (hhmmss)', (s) => (s === START_S + 6 ? '126199' : digits(s)));
    expect(problemOf(odd, 'timeNotRead')).toMatchObject({ row: 5, details: { text: '126199', count: 1 } });
  });

  test.each([
    // Each of these reads as a time of day here and there, but could as well count seconds, or hours since the start.
    ['whole numbers without a jump', (s: number) => String(100_000 + (s - START_S) / 20)],
    ['seconds', (s: number) => String(s)],
    ['hours since the start', (s: number) => String((s - START_S) / 3600)],
  ])('%s are asked about', (_, write) => {
    expect(problemOf(file('Time', write), 'askUnit').details.role).toBe('time');
  });
});

test('columns at the end without a heading are left out, and said', () => {
  const outcome = points('Lon,Lat,Yield (t/ha),,\n11.5,48.1,9.5,ok,3\n11.6,48.1,9.6,,\n');
  expect([...(taken(outcome).yieldKgPerHa ?? [])]).toEqual([9500, 9600]);
  expect(problemOf(outcome, 'columnsWithoutName').details).toEqual({ columns: ['4', '5'], count: 2 });
  // Blank beneath a blank heading is nothing to speak of; more cells than the line of headings has stay a question.
  expect(codesOf(points('Lon,Lat,Yield (t/ha),,\n11.5,48.1,9.5,,\n11.6,48.1,9.6,,\n'))).toEqual([]);
  expect(codesOf(points('Lon,Lat,Yield (t/ha)\n11.5,48.1,9.5,1\n11.6,48.1,9.6,2\n'))).toContain('rowTooLong');
});

describe('rows without a time', () => {
  const withHoles = (holes: readonly number[]) =>
    file('Time (s)', (s) => (holes.includes((s - START_S) / 2) ? '' : String(s)));

  test('stand evenly between two times that lie as many usual steps apart', () => {
    const outcome = withHoles([3, 10, 11, 12]);
    expect([...(taken(outcome).timeS ?? [])]).toEqual(SECONDS.map((s) => s - START_S));
    expect(problemOf(outcome, 'timesFilledIn').details.count).toBe(4);
    expect(codesOf(outcome)).not.toContain('rowsWithoutTime');
  });

  test('have none at either end, or beside a pause, and that is said with the first of them', () => {
    const outcome = withHoles([0, 1, 198, 199]);
    expect(problemOf(outcome, 'rowsWithoutTime')).toMatchObject({ row: 2, details: { count: 4, of: 200 } });
    const paused = SECONDS.map((s, i) => (i < 100 ? s : s + 60));
    const clock = file(
      'Time',
      (s) => (s === SECONDS[99]! ? '' : digits(s).replace(/(..)(..)/, '$1:$2:')),
      paused,
    );
    expect(problemOf(clock, 'rowsWithoutTime')).toMatchObject({ row: 101, details: { count: 1 } });
    expect(taken(clock).timeS?.[99]).toBeNaN();
  });
});
