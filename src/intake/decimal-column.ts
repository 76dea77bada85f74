import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type DecimalCell, type DecimalReading, readDecimal, readingOf } from './decimal-number.ts';
import { intakeProblem } from './problem-codes.ts';

/** Where a column stands, so that a fault can be named by row and heading. */
export interface ColumnPlace {
  readonly file: string | null;
  readonly heading: string | null;
  /** Row in the file of each cell; absent: the cells stand in rows 2, 3, ... beneath a heading. */
  readonly rowNumbers?: readonly number[];
  /** How the file writes decimals, for a column that does not prove it itself; absent: an unproven point. */
  readonly decimals?: DecimalReading;
}

/**
 * A numeric column as an origin and exact deviations from it, so that numbers such as 1000000000000.4 keep their
 * last digits: each deviation is the decimal difference, taken exactly and rounded to a double once.
 */
export interface DecimalColumn {
  /** Decimal text of the origin: the lower median of the column, so that adding a constant changes no deviation. */
  readonly originText: string;
  readonly origin: number;
  /** value - origin; null: lost plot. */
  readonly deviations: readonly (number | null)[];
  /** The deviations in units of the last decimal place, exact: deviation = units × 10^-decimalPlaces. */
  readonly units: readonly (bigint | null)[];
  readonly decimalPlaces: number;
}

const NO_DECIMALS: DecimalReading = { mark: '.', proven: false };
const ROWS_NAMED = 10;

/** Problems: `notANumber`, `ambiguousNumber`, `mixedDecimalMarks`, `noValues`; `lostPlots` as a note. */
export function decimalColumn(cells: readonly string[], place: ColumnPlace): Outcome<DecimalColumn> {
  const reading = readingOf(cells, place.decimals ?? NO_DECIMALS);
  const read = cells.map((cell) => readDecimal(cell, reading));
  const faults = cellFaults(cells, read, reading, place);
  if (faults.length > 0) return failure(...faults);
  const texts = read.map((cell) => (cell.kind === 'number' ? cell.text : null));
  if (texts.every((text) => text === null)) {
    return failure(intakeProblem('noValues', { file: place.file, column: place.heading }, {}));
  }
  return success(deviationsFromMedian(texts), lostPlots(texts, place));
}

function cellFaults(
  cells: readonly string[],
  read: readonly DecimalCell[],
  reading: DecimalReading,
  place: ColumnPlace,
): Problem[] {
  const at = (index: number) => ({
    file: place.file,
    column: place.heading,
    row: place.rowNumbers?.[index] ?? index + 2,
  });
  const firstAndCount = (kind: DecimalCell['kind']) => ({
    first: read.findIndex((cell) => cell.kind === kind),
    count: read.filter((cell) => cell.kind === kind).length,
  });
  const text = (index: number) => (cells[index] ?? '').trim().slice(0, 60);
  const faults: Problem[] = [];
  const bad = firstAndCount('notANumber');
  if (bad.count > 0) {
    faults.push(intakeProblem('notANumber', at(bad.first), { text: text(bad.first), count: bad.count }));
  }
  const unclear = firstAndCount('ambiguous');
  if (unclear.count > 0) {
    const details = { text: text(unclear.first), count: unclear.count };
    faults.push(intakeProblem('ambiguousNumber', at(unclear.first), details));
  }
  const otherMark = firstAndCount('otherMark');
  if (otherMark.count > 0) {
    const other = cells.find((cell) => cell.includes(reading.mark))?.trim() ?? reading.mark;
    faults.push(
      intakeProblem('mixedDecimalMarks', at(otherMark.first), { text: text(otherMark.first), other }),
    );
  }
  return faults;
}

function lostPlots(texts: readonly (string | null)[], place: ColumnPlace): Problem[] {
  const lost = texts.flatMap((text, index) =>
    text === null ? [place.rowNumbers?.[index] ?? index + 2] : [],
  );
  if (lost.length === 0) return [];
  const rows = lost.slice(0, ROWS_NAMED).map(String);
  return [
    intakeProblem('lostPlots', { file: place.file, column: place.heading }, { count: lost.length, rows }),
  ];
}

interface ScaledInteger {
  readonly digits: bigint;
  readonly decimalPlaces: number;
}

/** "-12.50e1" → -1250 with 1 decimal place; the value is digits × 10^-decimalPlaces. */
function scaledInteger(text: string): ScaledInteger {
  const [mantissa = '0', exponent = '0'] = text.toLowerCase().split('e');
  const [whole = '', fraction = ''] = mantissa.replace('+', '').split('.');
  const digits = BigInt(`${whole}${fraction}`.replace(/^-?$/, '0').replace(/^-(?=\d)/, ''));
  const decimalPlaces = fraction.length - Number(exponent);
  return { digits: whole.startsWith('-') ? -digits : digits, decimalPlaces };
}

function deviationsFromMedian(texts: readonly (string | null)[]): DecimalColumn {
  const scaled = texts.map((text) => (text === null ? null : scaledInteger(text)));
  const decimalPlaces = scaled.reduce((most, value) => Math.max(most, value?.decimalPlaces ?? 0), 0);
  const values = scaled.map((value) =>
    value === null ? null : value.digits * 10n ** BigInt(decimalPlaces - value.decimalPlaces),
  );
  const sorted = values.filter((value) => value !== null).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  const origin = sorted[Math.floor((sorted.length - 1) / 2)] ?? 0n;
  const units = values.map((value) => (value === null ? null : value - origin));
  const originText = decimalText(origin, decimalPlaces);
  return {
    originText,
    origin: Number(originText),
    deviations: units.map((unit) => (unit === null ? null : roundedOnce(unit, decimalPlaces))),
    units,
    decimalPlaces,
  };
}

/** Numeric text to double rounds once and correctly, so the decimal text of an exact value is the way to it. */
export function roundedOnce(units: bigint, decimalPlaces: number): number {
  return Number(`${units}e-${decimalPlaces}`);
}

function decimalText(units: bigint, decimalPlaces: number): string {
  const sign = units < 0n ? '-' : '';
  const digits = (units < 0n ? -units : units).toString().padStart(decimalPlaces + 1, '0');
  const whole = digits.slice(0, digits.length - decimalPlaces);
  const fraction = digits.slice(digits.length - decimalPlaces).replace(/0+$/, '');
  return `${sign}${whole}${fraction === '' ? '' : `.${fraction}`}`;
}
