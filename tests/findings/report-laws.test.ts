import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/export/plain-text.ts';
import { reportFromPlotTable, type TableReportInput } from '../../src/findings/report-from-plot-table.ts';
import { type ReportModel, reportModelSchema } from '../../src/findings/report-model.ts';
import { DECIDING_PROCEDURES } from '../../src/trial/trial-document.ts';
import { type Cell, fixtureCells, onlyResponse, plotTable, tableInput } from './report-inputs.ts';

/** Small designs of every kind, degenerate ones among them: few levels, few decimals, lost plots, repeats. */
const cell = fc.tuple(
  fc.constantFrom('A', 'B', 'C', 'D'),
  fc.constantFrom('1', '2', '3'),
  fc.option(
    fc.integer({ min: -30, max: 30 }).map((tenths) => tenths / 10),
    { freq: 6 },
  ),
);

const input: fc.Arbitrary<TableReportInput> = fc
  .record({
    cells: fc.array(cell, { minLength: 1, maxLength: 14 }),
    blocked: fc.boolean(),
    origin: fc.constantFrom(0, 5, 1e12),
    alpha: fc.constantFrom(0.05, 0.1, 0.5),
    decidedBy: fc.constantFrom(...DECIDING_PROCEDURES),
    withCheck: fc.boolean(),
    margin: fc.constantFrom(null, 0.5, 10),
    better: fc.constantFrom('higher' as const, 'lower' as const),
  })
  .map(({ cells, blocked, origin, withCheck, ...rest }) => {
    const own = cells.map(([a, b, value]): Cell => [a, blocked ? b : null, value]);
    const check = withCheck ? (cells[0]?.[0] ?? null) : null;
    return { ...tableInput([]), ...rest, check, table: plotTable(own, origin) };
  });

function noNonsense(report: ReportModel): void {
  const walk = (part: unknown, path: string): void => {
    if (part === undefined) throw new Error(`${path} is undefined`);
    if (typeof part === 'number' && !Number.isFinite(part)) throw new Error(`${path} is ${part}`);
    if (typeof part === 'string' && /NaN|Infinity|undefined|\{\w+\}/.test(part))
      throw new Error(`${path} reads ${part}`);
    if (typeof part === 'object' && part !== null)
      for (const [key, own] of Object.entries(part)) walk(own, `${path}.${key}`);
  };
  walk(report, 'report');
}

describe('every report', () => {
  it('holds its contract and never a NaN, an infinity, an undefined or an unfilled sentence', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(input, (own) => {
        const report = reportFromPlotTable(own);
        noNonsense(report);
        v.parse(reportModelSchema, report);
        expect(plainText(report)).not.toMatch(/NaN|Infinity|undefined/);
        for (const response of report.responses) {
          seen.add(
            response.refusal?.code ?? (response.answers[0]?.difference === null ? 'numbers' : 'judged'),
          );
          for (const { answers } of report.responses) for (const answer of answers) soundAnswer(answer, own);
        }
      }),
      { numRuns: 250, seed: 20260901 },
    );
    // The designs drawn must have reached the branches that matter.
    expect([...seen]).toEqual(
      expect.arrayContaining([
        'judged',
        'numbers',
        'tooFewTreatments',
        'confoundedTerms',
        'constantResponse',
      ]),
    );
  });
});

/** Verdicts hold to their definitions, whatever the data. */
function soundAnswer(
  answer: ReportModel['responses'][number]['answers'][number],
  own: TableReportInput,
): void {
  const { difference, differenceSentence, interval, equivalence } = answer;
  expect(differenceSentence.startsWith(difference ?? 'Numbers only, no replication')).toBe(true);
  expect(answer.moneySentence).toMatch(/^Not known: /);
  if (difference === null) return;
  const leavesOut = interval.lower! > 0 || interval.upper! < 0;
  if (own.decidedBy !== 'holm' && difference.startsWith('Real')) expect(leavesOut).toBe(true);
  if (own.decidedBy !== 'holm' && own.decidedBy !== 'protectedLsd' && leavesOut)
    expect(difference).toMatch(/^Real/);
  const inside = own.margin != null && equivalence.lower! > -own.margin && equivalence.upper! < own.margin;
  expect(difference === 'Real' || difference === 'Not settled').toBe(!inside);
}

describe('laws', () => {
  const cells = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
  const key = (row: { a: string; b: string; procedure: string }) =>
    `${[row.a, row.b].sort().join(' ')} ${row.procedure}`;

  function compare(changed: readonly Cell[], original: (name: string) => string, scale = 1): void {
    const before = onlyResponse(reportFromPlotTable(tableInput(cells)));
    const after = onlyResponse(reportFromPlotTable(tableInput(changed)));
    for (const [i, row] of before.anova.entries()) {
      if (row.f !== null) expect(after.anova[i]!.f! / row.f).toBeCloseTo(1, 10);
      if (row.p !== null) expect(after.anova[i]!.p! / row.p).toBeCloseTo(1, 10);
    }
    const rows = new Map(
      after.comparisons.map((row) => [
        key({ ...row, a: original(row.a), b: original(row.b) }),
        { ...row, a: original(row.a) },
      ]),
    );
    for (const row of before.comparisons) {
      const same = rows.get(key(row))!;
      const sign = same.a === row.a ? 1 : -1;
      expect(Math.abs(same.difference - sign * scale * row.difference)).toBeLessThan(1e-8 * scale);
      expect(same.p!).toBeCloseTo(row.p!, 10);
    }
    const verdicts = (answers: typeof after.answers) => answers.map(({ difference }) => difference).sort();
    expect(verdicts(after.answers)).toEqual(verdicts(before.answers));
  }

  it('other names for treatments and blocks change no figure', () => {
    const renamed = cells.map(([a, b, value]): Cell => [`x${a}`, `y${b}`, value]);
    compare(renamed, (name) => name.slice(1));
  });

  it('another order of rows changes no figure beyond the sign of a turned pair', () => {
    compare([...cells].reverse(), (name) => name);
    const mixed = cells.map((own, i) => ({ own, at: (i * 17) % 29 })).sort((x, y) => x.at - y.at);
    compare(
      mixed.map(({ own }) => own),
      (name) => name,
    );
  });

  it('a constant added changes no F, a factor scales differences alone', () => {
    compare(
      cells.map(([a, b, value]): Cell => [a, b, value! + 1000]),
      (name) => name,
    );
    compare(
      cells.map(([a, b, value]): Cell => [a, b, value! * 4]),
      (name) => name,
      4,
    );
  });

  it('the same input gives the same text, byte for byte', () => {
    const text = () => JSON.stringify(reportFromPlotTable(tableInput(cells)));
    expect(text()).toBe(text());
  });
});
