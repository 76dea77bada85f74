import { usualStep } from './usual-step.ts';

/**
 * Clocks that are written as plain numbers: hours, minutes and seconds as digits side by side (93015 for 09:30:15), days
 * since a day long ago or shares of the day as spreadsheets count, seconds of the day.
 */
export type NumberClock = 'hhmmss' | 'hhmm' | 'days' | 's';

const SECONDS_PER_DAY = 86_400;
const SECONDS_WORDS = new Set([
  'seconds',
  'second',
  'sec',
  'secs',
  'sekunden',
  'sekunde',
  'secondes',
  'segundos',
]);
const OF_DAY_WORDS = new Set([
  'midnight',
  'day',
  'mitternacht',
  'tag',
  'tages',
  'minuit',
  'jour',
  'medianoche',
  'dia',
]);
/** Serial days of spreadsheets from 2000 to 2100. */
const [FIRST_DAY, LAST_DAY] = [36_526, 73_051];

/**
 * Which clock do the numbers of a time column without a unit show? Told only where nothing else fits; null: not told, so
 * that the unit is asked for.
 */
export function clockOfNumbers(cells: readonly string[], words: readonly string[]): NumberClock | null {
  const texts = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const values = texts.map((text) => Number(text.replace(',', '.')));
  if (values.length < 2 || values.some((value) => !Number.isFinite(value) || value < 0)) return null;
  if (isDigitClock(texts, values)) return 'hhmmss';
  const usual = usualStep(values);
  if (isSerialDays(values, usual) || isShareOfDay(values, usual)) return 'days';
  const saysSeconds = words.some((word) => SECONDS_WORDS.has(word));
  // Seconds beside columns of hours and minutes begin again with each minute.
  const areTotal = words.some((word) => OF_DAY_WORDS.has(word)) || isRising(values);
  return saysSeconds && areTotal && Math.max(...values) >= 60 ? 's' : null;
}

/** Seconds since midnight of a number whose digits are hours, minutes and seconds; NaN where there is no such time. */
export function secondsOfDigits(value: number, clock: 'hhmmss' | 'hhmm'): number {
  const digits = clock === 'hhmm' ? value * 100 : value;
  const hours = Math.floor(digits / 10_000);
  const minutes = Math.floor(digits / 100) % 100;
  const seconds = digits - hours * 10_000 - minutes * 100;
  const isTime = hours >= 0 && hours < 24 && minutes < 60 && seconds < 60;
  return isTime ? hours * 3600 + minutes * 60 + seconds : Number.NaN;
}

/**
 * Certain where a zero stands before the hour, or where the digits jump to the next minute just when a clock would: as
 * numbers the step is then 40 more than the usual one, as a clock it is the usual one.
 */
function isDigitClock(texts: readonly string[], values: readonly number[]): boolean {
  if (!texts.every((text) => /^\d{5,6}(?:[.,]\d+)?$/.test(text))) return false;
  const seconds = values.map((value) => secondsOfDigits(value, 'hhmmss'));
  if (seconds.some(Number.isNaN)) return false;
  if (texts.every((text) => /^\d{6}/.test(text)) && texts.some((text) => text.startsWith('0'))) return true;
  const usual = usualStep(seconds);
  if (usual === null) return false;
  return seconds.some((now, i) => {
    const stepS = i === 0 ? Number.NaN : now - seconds[i - 1]!;
    const jumps = i > 0 && values[i]! - values[i - 1]! >= stepS + 40 - 1e-6;
    return jumps && Math.abs(stepS - usual) < 1e-6;
  });
}

function isSerialDays(values: readonly number[], usual: number | null): boolean {
  if (usual === null || usual > 0.01) return false;
  return values.every((value) => value >= FIRST_DAY && value < LAST_DAY);
}

/** Elapsed hours or days begin near 0; a clock's shares of the day fall on whole seconds, a few of them apart. */
function isShareOfDay(values: readonly number[], usual: number | null): boolean {
  if (usual === null || usual * SECONDS_PER_DAY > 15 || Math.min(...values) < 0.1) return false;
  return values.every((value) => {
    const seconds = value * SECONDS_PER_DAY;
    return value < 1 && Math.abs(seconds - Math.round(seconds)) < 0.05;
  });
}

function isRising(values: readonly number[]): boolean {
  return values.every((value, i) => i === 0 || value >= values[i - 1]!);
}
