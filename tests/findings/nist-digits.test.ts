import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { agreeingDigits, fixtureExpected, fixtureTable } from '../analyses/fixture-data.ts';
import { type Cell, onlyResponse, plotTable, sourceRow, tableInput } from './report-inputs.ts';

/**
 * NIST Statistical Reference Datasets, analysis of variance, Simon & Lesage sets (public domain). The report must
 * keep the digits that intake keeps: an origin and exact deviations.
 */
interface Certified {
  readonly sets: Record<string, { F: string; ssBetween: string; ssWithin: string; dfWithin: number }>;
}

const { sets } = fixtureExpected<Certified>('nist-anova');

/** Values beyond 1e12 written as origin and tenths, taken from the decimal text. */
function cellsOf(name: string, origin: number): readonly Cell[] {
  return fixtureTable(`nist-anova/${name}.csv`).map(({ group, response }) => {
    const [whole, decimals] = response!.split('.') as [string, string | undefined];
    return [group!, null, Number(`${Number(whole) - origin}.${decimals ?? '0'}`)];
  });
}

/** By the rule in the fixture: base, then base - 0.1 and base + 0.1 in turn; nine groups. */
function simonLesage(perGroup: number): readonly Cell[] {
  const text = readFileSync(new URL('../../fixtures/nist-anova/SmLs01.csv', import.meta.url), 'utf8');
  const bases = new Map<string, number>();
  for (const line of text.trim().split('\n').slice(1)) {
    const [group, value] = line.split(',') as [string, string];
    if (!bases.has(group)) bases.set(group, Number(value));
  }
  return [...bases].flatMap(([group, base]) =>
    Array.from({ length: perGroup }, (_, i): Cell => {
      const tenths = Math.round(base * 10) + (i === 0 ? 0 : i % 2 === 1 ? -1 : 1);
      return [group, null, Number((tenths / 10).toFixed(1))];
    }),
  );
}

describe('NIST analysis of variance through the report', () => {
  it.each([
    ['SiRstv', 0, 13],
    ['SmLs01', 0, 13],
    ['SmLs07', 1e12, 13],
  ] as const)('%s with %d taken off: F keeps %d digits', (name, origin, digits) => {
    const table = plotTable(cellsOf(name, origin), origin);
    const response = onlyResponse(reportFromPlotTable({ ...tableInput([]), table }));
    expect(sourceRow(response, 'error').df).toBe(sets[name]!.dfWithin);
    expect(agreeingDigits(sourceRow(response, 'treatment').f!, Number(sets[name]!.F))).toBeGreaterThanOrEqual(
      digits,
    );
  });

  it('SmLs09, 18,009 rows under a constant of 1e12: F to 13 digits, a strip a row', () => {
    const table = plotTable(simonLesage(2001), 1e12);
    const report = reportFromPlotTable({ ...tableInput([]), table });
    const response = onlyResponse(report);
    expect(report.strips).toHaveLength(18009);
    expect(sourceRow(response, 'error').df).toBe(18000);
    expect(
      agreeingDigits(sourceRow(response, 'treatment').f!, Number(sets.SmLs09!.F)),
    ).toBeGreaterThanOrEqual(13);
    expect(response.comparisons.filter(({ procedure }) => procedure === 'lsd')).toHaveLength(36);
  });
});
