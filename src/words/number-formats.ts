/**
 * Numbers as text, the same on every machine: a point as decimal mark, no grouping of thousands, an ASCII minus.
 * Nothing here asks the locale, so screens, files and the command line agree to the letter.
 */

/** What stands where there is no number. */
export const NO_NUMBER = '-';

const LARGEST_FIXED = 1e15;
const MOST_DECIMALS = 10;

/** With a fixed number of decimals; never "-0.0". From 1e15 on as a power of ten. */
export function fixed(value: number | null, decimals: number): string {
  if (value === null || !Number.isFinite(value)) return NO_NUMBER;
  if (Math.abs(value) >= LARGEST_FIXED) return value.toExponential(6);
  return withoutNegativeZero(value.toFixed(decimals));
}

/** As {@link fixed}, with a plus sign before what is above zero. */
export function signed(value: number | null, decimals: number): string {
  const text = fixed(value, decimals);
  return value !== null && value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** The end of an interval: one that leaves zero out is never rounded onto it, since a verdict hangs on that. */
export function signedBound(value: number | null, decimals: number): string {
  const text = signed(value, decimals);
  if (value === null || value === 0 || Number(text) !== 0) return text;
  return `${value > 0 ? '+' : ''}${significant(value, 1)}`;
}

/** To a number of significant digits, without an exponent where the number is of ordinary size. */
export function significant(value: number | null, digits: number): string {
  if (value === null || !Number.isFinite(value)) return NO_NUMBER;
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size < 1e-6 || size >= LARGEST_FIXED) return value.toExponential(digits - 1);
  const rounded = Number(value.toPrecision(digits));
  return fixed(rounded, clampDecimals(digits - 1 - magnitude(rounded)));
}

/**
 * Decimals for a column of means or differences: enough to show two digits of their standard error, for more would be
 * noise; without a standard error, four digits of the level.
 */
export function decimalsFor(standardError: number | null, level: number | null): number {
  if (standardError !== null && standardError > 0) return clampDecimals(1 - magnitude(standardError));
  if (level !== null && level !== 0) return clampDecimals(3 - magnitude(level));
  return 2;
}

/** A p value: three decimals, never 0.000 or 1.000, and never rounded onto a usual level that it did not reach. */
export function pValue(p: number | null): string {
  if (p === null) return NO_NUMBER;
  if (p < 0.001) return '< 0.001';
  if (p > 0.999) return '> 0.999';
  const text = p.toFixed(3);
  return USUAL_LEVELS.includes(text) && Number(text) !== p ? p.toFixed(4) : text;
}

const USUAL_LEVELS = ['0.010', '0.050', '0.100'];

/** "p = 0.013" or "p < 0.001", for use in a sentence. */
export function pPhrase(p: number): string {
  const text = pValue(p);
  return /^[<>]/.test(text) ? `p ${text}` : `p = ${text}`;
}

/** A significance level as people write it: 0.05, 0.1, 0.0167. */
export function levelText(alpha: number): string {
  return String(Number(alpha.toPrecision(3)));
}

/** A share as percent, to two digits below 10 % and whole above, save that "97.5 %" keeps its half. */
export function percentOf(share: number | null): string {
  if (share === null) return NO_NUMBER;
  const percent = share * 100;
  const halves = Math.round(percent * 2) / 2;
  if (Math.abs(percent - halves) < 1e-9) return `${fixed(halves, Number.isInteger(halves) ? 0 : 1)} %`;
  return Math.abs(percent) >= 10 ? `${fixed(percent, 0)} %` : `${significant(percent, 2)} %`;
}

/** The level of an interval, never rounded to another one: 95 %, 97.5 %, 99.9 %. */
export function levelPercent(level: number): string {
  return `${Number((100 * level).toPrecision(4))} %`;
}

/** An amount of money with its unit, `EUR/ha`: cents below a thousand, whole amounts above. */
export function money(amount: number | null, unit: string): string {
  return amount === null ? NO_NUMBER : `${fixed(amount, moneyDecimals(amount))} ${unit}`;
}

export function signedMoney(amount: number | null, unit: string): string {
  return amount === null ? NO_NUMBER : `${signed(amount, moneyDecimals(amount))} ${unit}`;
}

function moneyDecimals(amount: number): number {
  return Math.abs(amount) < 1000 ? 2 : 0;
}

/** A quantity with its unit; without one, the number alone. */
export function withUnit(number: string, unit: string | null): string {
  if (unit === null || unit === '') return number;
  return unit === '%' ? `${number} %` : `${number} ${unit}`;
}

/** Power of ten of the leading digit. */
function magnitude(value: number): number {
  return Number(Math.abs(value).toExponential(6).split('e')[1]);
}

function clampDecimals(decimals: number): number {
  return Math.min(MOST_DECIMALS, Math.max(0, decimals));
}

function withoutNegativeZero(text: string): string {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** Nothing that a trial says is certain, so no chance is shown as 0 or 100 %. */
export function chanceText(chance: number): string {
  if (chance < 0.001) return '< 0.1 %';
  if (chance > 0.999) return '> 99.9 %';
  const text = percentOf(chance);
  return text === '100 %' ? `${fixed(100 * chance, 1)} %` : text;
}
