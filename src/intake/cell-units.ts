import type { Problem } from '../trial/problem.ts';
import { type DecimalReading, readDecimal } from './decimal-number.ts';
import { findUnit, type KnownUnit, measures, type Quantity } from './known-units.ts';
import type { NumberColumn, NumberPlace } from './number-column.ts';
import { intakeProblem } from './problem-codes.ts';

const WITH_UNIT = /^([+\u2212-]?[\d.,](?:[\d.,'’ \u00A0\u202F]*[\d.])?)\s*([\p{L}%°][\p{L}\d%°²/ ^.-]*)$/u;
const LONGEST_CELL = 60;

export interface NumberWithUnit {
  /** Canonical decimal text. */
  readonly text: string;
  readonly unit: KnownUnit;
}

/** "9.1 t/ha" or "15%": a number with a known unit behind it; null for anything else. */
export function numberWithUnit(cell: string, reading: DecimalReading): NumberWithUnit | null {
  if (cell.length > LONGEST_CELL) return null;
  const match = WITH_UNIT.exec(cell.trim());
  if (match === null) return null;
  const unit = findUnit(match[2] ?? '');
  const number = readDecimal(match[1] ?? '', reading);
  return unit !== null && number.kind === 'number' ? { text: number.text, unit } : null;
}

/** The one unit behind all numbers of a column, 'mixed' where they differ, null where none stands there. */
export function unitOfCells(
  cells: readonly string[],
  quantity: Quantity,
  reading: DecimalReading,
): KnownUnit | 'mixed' | null {
  const filled = cells.filter((cell) => readDecimal(cell, reading).kind !== 'lost');
  const units = filled.map((cell) => numberWithUnit(cell, reading)?.unit ?? null);
  const [first] = units.filter((unit) => measures(unit, quantity));
  if (first === undefined || first === null) return null;
  const plain = filled.filter((cell) => readDecimal(cell, reading).kind === 'number').length;
  if (plain > 0 || units.some((unit) => unit !== null && unit.name !== first.name)) return 'mixed';
  return first;
}

/** Numbers with another unit than the column's, or with one among numbers without: which is right cannot be told. */
export function mixedUnits(column: NumberColumn, readAs: string | null, at: NumberPlace): Problem[] {
  const odd = column.units.find(({ unit }) => unit.name !== readAs);
  if (odd === undefined) return [];
  const other = column.units.find(({ unit }) => unit.name !== odd.unit.name);
  const place = { file: at.file, column: at.heading, row: at.rowNumbers[odd.first] ?? null };
  return [intakeProblem('mixedUnits', place, { text: odd.text, other: other?.text ?? readAs ?? 'no unit' })];
}
