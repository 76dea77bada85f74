import { describe, expect, it } from 'vitest';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { Inference, TrialDocument } from '../../src/trial/trial-document.ts';
import { fixtureTable } from '../analyses/fixture-data.ts';
import { onlyResponse, stripsInput, stripValue } from './report-inputs.ts';
import { type Asked, reportOfFixture } from './table-questions.ts';

/** Law: the strips of a trial document and a table of the same plots are one trial, so their figures are the same. */
interface Columns {
  readonly treatment: readonly string[];
  readonly block?: string;
  readonly row?: string;
  readonly column?: string;
  readonly covariate?: (at: number) => number;
}

function trialOfFixture(
  fixture: string,
  response: string,
  columns: Columns,
  inference: Partial<Inference>,
): ReturnType<typeof stripsInput> {
  const rows = fixtureTable(`${fixture}/data.csv`);
  const { treatment, block, row, column } = columns;
  const nameOf = (own: Record<string, string>) => treatment.map((heading) => own[heading]).join(', ');
  const once = (names: readonly string[]) => [...new Set(names)];
  const [first, second] = treatment;
  const start = newTrial('From a table');
  const trial: TrialDocument = {
    ...start,
    design: block === undefined ? 'completelyRandomized' : 'randomizedCompleteBlocks',
    treatments: once(rows.map(nameOf)).map((name) => {
      const own = rows.find((one) => nameOf(one) === name)!;
      const base = { id: name, name, isCheck: false, costPerHa: null, applicationCostPerHa: null };
      return second === undefined ? base : { ...base, factorLevels: [own[first!]!, own[second]!] };
    }),
    blocks: block === undefined ? [] : once(rows.map((own) => own[block]!)).map((id) => ({ id, name: id })),
    strips: rows.map((own, at) => ({
      id: `strip ${at}`,
      treatment: nameOf(own),
      block: block === undefined ? null : own[block]!,
      place: null,
      polygon: null,
      ...(row === undefined ? {} : { row: own[row]!, column: own[column!]! }),
    })),
    inference: { ...start.inference, ...inference },
  };
  const strips = rows.map((own, at) => stripValue(`strip ${at}`, { [response]: Number(own[response]) }));
  return stripsInput({ trial, strips }, { responses: [{ name: response, quantity: 'other', unit: null }] });
}

/** Every figure of a response by its path; words differ between trial and table, figures must not. */
function figures(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, own]) => figures(own, `${path}.${key}`));
}

function expectSame(input: ReturnType<typeof stripsInput>, fixture: string, asked: Asked): void {
  const own = onlyResponse(reportFromStrips(input));
  const table = onlyResponse(reportOfFixture(fixture, asked));
  expect(own.design).toBe(table.design);
  const [got, want] = [figures(own), figures(table)];
  expect(got.map(([path]) => path)).toEqual(want.map(([path]) => path));
  expect(want.length).toBeGreaterThan(50);
  for (const [at, [path, figure]] of got.entries()) {
    const [, other] = want[at]!;
    // Tables keep an origin apart, trials do not: the last digits of small remainders may differ.
    expect(Math.abs(figure - other), path).toBeLessThanOrEqual(1e-8 * Math.max(1, Math.abs(other)));
  }
}

describe('a trial document gives the figures of the table of its strips', () => {
  it('in a Latin square', () => {
    const fixture = 'gomez-maize-latin-square';
    const columns = { treatment: ['hybrid'], row: 'row', column: 'col' };
    expectSame(trialOfFixture(fixture, 'yield', columns, { square: true }), fixture, {
      treatment: 'hybrid',
      responses: ['yield'],
      design: { row: 'row', column: 'col' },
    });
  });

  it('with two factors', () => {
    const columns = { treatment: ['wool', 'tension'] };
    const factors = { first: 'wool', second: 'tension', split: false };
    expectSame(trialOfFixture('warp-breaks', 'breaks', columns, { factors }), 'warp-breaks', {
      responses: ['breaks'],
      design: { factors: ['wool', 'tension'] },
    });
  });

  it('in a split plot', () => {
    const fixture = 'yates-oats-split-plot';
    const [block, main, sub, response] = SPLIT;
    const factors = { first: main, second: sub, split: true };
    expectSame(trialOfFixture(fixture, response, { treatment: [main, sub], block }, { factors }), fixture, {
      block,
      responses: [response],
      splitPlot: true,
      design: { factors: [main, sub] },
    });
  });

  it('with contrasts', () => {
    const fixture = 'gomez-seeding-rate';
    const weights = [
      { treatment: '25', weight: 1 },
      { treatment: '50', weight: -0.5 },
      { treatment: '75', weight: -0.5 },
    ];
    const [treatment, block, response] = SEEDING;
    expectSame(
      trialOfFixture(fixture, response, { treatment: [treatment], block }, { contrasts: [weights] }),
      fixture,
      { treatment, block, responses: [response], contrasts: [weights] },
    );
  });

  it('with a covariate', () => {
    // The row's number as the covariate: any number will do for the law.
    const fixture = 'gomez-maize-latin-square';
    const input = trialOfFixture(fixture, 'yield', { treatment: ['hybrid'] }, { covariate: 'stand' });
    const strips = input.trial.strips.map((strip, at) => ({
      ...strip,
      covariate: Number(fixtureTable(`${fixture}/data.csv`)[at]!.row),
    }));
    expectSame({ ...input, trial: { ...input.trial, strips } }, fixture, {
      treatment: 'hybrid',
      responses: ['yield'],
      design: { covariate: 'row' },
    });
  });
});

const SPLIT = ['B', 'V', 'N', 'Y'] as const;
const SEEDING = ['rate', 'rep', 'yield'] as const;

describe('what a design lacks stops the analysis', () => {
  const codes = (input: ReturnType<typeof stripsInput>) => {
    const report = reportFromStrips(input);
    expect(report.responses).toEqual([]);
    return report.problems.filter(({ severity }) => severity === 'error').map(({ code }) => code);
  };

  it('a strip without row and column', () => {
    const input = trialOfFixture(
      'gomez-maize-latin-square',
      'yield',
      { treatment: ['hybrid'] },
      { square: true },
    );
    expect(codes(input)).toEqual(input.trial.strips.map(() => 'stripOutsideSquare'));
  });

  it('treatments without levels, and levels given twice', () => {
    const factors = { first: 'wool', second: 'tension', split: false };
    const input = trialOfFixture('warp-breaks', 'breaks', { treatment: ['wool', 'tension'] }, { factors });
    const changed = (id: string, factorLevels: [string, string] | null) => {
      const edited = applyCommand(input.trial, { name: 'changeTreatment', id, changes: { factorLevels } });
      if (!edited.ok) throw new Error(JSON.stringify(edited.problems));
      return codes({ ...input, trial: edited.value });
    };
    expect(changed('A, L', null)).toEqual(['treatmentWithoutLevels']);
    expect(changed('A, L', ['A', 'M'])).toEqual(['levelsGivenTwice']);
  });
});
