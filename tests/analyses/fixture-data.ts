import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';

const FIXTURES = new URL('../../fixtures/', import.meta.url);

export type Table = readonly Readonly<Record<string, string>>[];

/** A CSV without embedded commas, one object a row. */
export function fixtureTable(path: string): Table {
  const [head, ...rows] = readFileSync(new URL(path, FIXTURES), 'utf8').trim().split('\n').map(cells);
  return rows.map((row) => Object.fromEntries(head!.map((name, i) => [name, row[i]!])));
}

function cells(line: string): string[] {
  return line
    .trim()
    .split(',')
    .map((cell) => cell.replace(/^"|"$/g, ''));
}

/** `expected.json` of a case, as the type the test reads it by. */
export function fixtureExpected<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`${name}/expected.json`, FIXTURES), 'utf8')) as T;
}

export function numbers(table: Table, column: string): number[] {
  return table.map((row) => Number(row[column]));
}

/** Labels of a column in order of appearance. */
export function labels(table: Table, column: string): string[] {
  return [...new Set(table.map((row) => row[column]!))];
}

export function factor(table: Table, column: string): FactorTerm {
  const levels = labels(table, column);
  const levelOfPlot = table.map((row) => levels.indexOf(row[column]!));
  return { kind: 'factor', id: column, levelOfPlot, levelCount: levels.length };
}

/** The result, or a failed test that names the refusal. */
export function accepted<T extends object>(result: T | Refusal): T {
  if (isRefusal(result)) throw new Error(`expected a result, got the refusal ${JSON.stringify(result)}`);
  return result;
}

export function refusalOf(result: object): Refusal {
  if (!isRefusal(result)) throw new Error('expected a refusal, got a result');
  return result;
}

export function expectRelative(
  got: number | null | undefined,
  want: number,
  tolerance: number,
  what = '',
): void {
  const error = Math.abs((got ?? Number.NaN) - want) / (want === 0 ? 1 : Math.abs(want));
  expect(error, `${what} got ${got}, want ${want}`).toBeLessThanOrEqual(tolerance);
}

/** Digits in agreement, as NIST counts them: -log10 of the relative error, at most 15. */
export function agreeingDigits(got: number, want: number): number {
  return got === want ? 15 : Math.min(15, -Math.log10(Math.abs(got - want) / Math.abs(want)));
}

/** The lines of an analysis of variance as the expected values write them. */
export interface ExpectedAnova {
  readonly [source: string]: {
    readonly df: number;
    readonly ss: number;
    readonly F: number | null;
    readonly p: number | null;
  };
}
