import { describe, expect, it } from 'vitest';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { ModelTerm } from '../../analyses/model-terms.ts';
import { responseFromValues } from '../../analyses/response.ts';
import {
  accepted,
  type ExpectedAnova,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  numbers,
  refusalOf,
} from './fixture-data.ts';

function fitted(name: string, response: string, columns: readonly string[], crossed: readonly string[] = []) {
  const table = fixtureTable(`${name}/data.csv`);
  const terms: ModelTerm[] = columns.map((column) => factor(table, column));
  for (const id of crossed) {
    const [a, b] = id.split(':') as [string, string];
    terms.push({ kind: 'interaction', id, factors: [a, b] });
  }
  return accepted(fitLinearModel(responseFromValues(numbers(table, response)), terms));
}

function expectAnova(fit: LinearModelFit, anova: ExpectedAnova, tolerance: number): void {
  for (const row of fit.rows) {
    const want = anova[row.term]!;
    expect(row.df, row.term).toBe(want.df);
    expectRelative(row.ss, want.ss, tolerance, `${row.term} SS`);
    expectRelative(row.f, want.F!, tolerance, `${row.term} F`);
    expectRelative(row.p, want.p!, tolerance, `${row.term} p`);
  }
  expect(fit.error.df).toBe(anova.Residuals!.df);
  expectRelative(fit.error.ss, anova.Residuals!.ss, tolerance, 'error SS');
}

interface Example {
  readonly computed: {
    readonly anova: ExpectedAnova;
    readonly total?: { readonly df: number; readonly ss: number };
    readonly summary?: { readonly cv: number; readonly grand_mean: number };
  };
}

describe('published examples (R 4.2.2 to 1e-10; sources in fixtures)', () => {
  it.each([
    ['gomez-seeding-rate', 'yield', ['rep', 'rate'], []],
    ['snedecor-soybean', 'failures', ['block', 'trt'], []],
    ['montgomery-tips', 'y', ['block', 'tip'], []],
    ['plant-growth', 'weight', ['group'], []],
    ['nist-tukey-example', 'y', ['g'], []],
    ['nist-gear', 'diameter', ['batch'], []],
    ['dunnett-blood-counts', 'y', ['grp'], []],
    ['warp-breaks', 'breaks', ['wool', 'tension'], []],
    ['gomez-maize-latin-square', 'yield', ['row', 'col', 'hybrid'], []],
    ['npk-factorial', 'yield', ['block', 'N', 'P', 'K'], ['N:P', 'N:K', 'P:K']],
  ] as const)('%s', (name, response, columns, crossed) => {
    const { computed } = fixtureExpected<Example>(name);
    const fit = fitted(name, response, columns, crossed);
    expectAnova(fit, computed.anova, 1e-10);
    if (computed.total !== undefined) {
      expect(fit.total.df).toBe(computed.total.df);
      expectRelative(fit.total.ss, computed.total.ss, 1e-12, 'total SS');
    }
    if (computed.summary !== undefined) {
      expectRelative(fit.cvPercent, computed.summary.cv, 1e-12, 'CV');
      expectRelative(fit.grandMean, computed.summary.grand_mean, 1e-14, 'grand mean');
    }
  });

  it('seeding rate, to the digits printed (Gomez & Gomez 1984, table 2.6; from memory)', () => {
    const fit = fitted('gomez-seeding-rate', 'yield', ['rep', 'rate']);
    expect(fit.rows.map((row) => Math.round(row.ss))).toEqual([1944361, 1198331]);
    expect(Math.round(fit.error.ss)).toBe(1658376);
    expect(Math.round(fit.error.ms!)).toBe(110558);
    expect(fit.rows[1]!.f!.toFixed(2)).toBe('2.17');
    expect(fit.cvPercent!.toFixed(1)).toBe('6.7');
  });

  it('seed treatments of soybean, to the digits printed (Snedecor & Cochran; from memory)', () => {
    const fit = fitted('snedecor-soybean', 'failures', ['block', 'trt']);
    expect(fit.rows.map((row) => row.ss.toFixed(2))).toEqual(['49.84', '83.84']);
    expect([fit.error.ss.toFixed(2), fit.error.ms!.toFixed(2)]).toEqual(['86.56', '5.41']);
    expect(fit.rows[1]!.f!.toFixed(2)).toBe('3.87');
  });

  it('a lost plot: least squares gives what Yates reaches by filling it in (Gomez & Gomez 1984, 7.1.2)', () => {
    const table = fixtureTable('gomez-missing-plot/data.csv');
    const present = table.filter((row) => row.yield !== 'NA' && row.yield !== '');
    expect(present).toHaveLength(23);
    const fit = accepted(
      fitLinearModel(responseFromValues(numbers(present, 'yield')), [
        factor(present, 'rep'),
        factor(present, 'rate'),
      ]),
    );
    const { exact_ls: want } = fixtureExpected<{
      computed: { exact_ls: { trt_ss: number; trt_F: number; trt_p: number; mse: number; df: number } };
    }>('gomez-missing-plot').computed;
    expectRelative(fit.rows[1]!.ss, want.trt_ss, 1e-10, 'SS');
    expectRelative(fit.rows[1]!.f, want.trt_F, 1e-10, 'F');
    expectRelative(fit.rows[1]!.p, want.trt_p, 1e-10, 'p');
    expectRelative(fit.error.ms, want.mse, 1e-10, 'error ms');
    expect(fit.error.df).toBe(want.df);
  });
});

const factorOf = (id: string, levelOfPlot: readonly number[]): ModelTerm => ({
  kind: 'factor',
  id,
  levelOfPlot,
  levelCount: Math.max(...levelOfPlot) + 1,
});
const analyse = (values: readonly number[], terms: readonly ModelTerm[]) =>
  fitLinearModel(responseFromValues(values), terms);

describe('what the data cannot carry is refused with its reason', () => {
  it('a value that is not finite, in the response or a covariate', () => {
    expect(refusalOf(analyse([1, Number.NaN, 3], [factorOf('t', [0, 1, 1])]))).toMatchObject({
      code: 'nonFiniteValue',
      details: { plot: 1 },
    });
    const covariate: ModelTerm = {
      kind: 'covariate',
      id: 'x',
      valueOfPlot: [1, 2, Number.POSITIVE_INFINITY],
    };
    expect(refusalOf(analyse([1, 2, 4], [covariate]))).toMatchObject({
      code: 'nonFiniteValue',
      details: { plot: 2, term: 'x' },
    });
  });

  it('a constant response, also when only rounding tells the values apart', () => {
    const term = factorOf('t', [0, 0, 1, 1]);
    expect(refusalOf(analyse([7, 7, 7, 7], [term])).code).toBe('constantResponse');
    expect(refusalOf(analyse([0.3, 0.1 + 0.2, 0.3, 0.1 + 0.2], [term])).code).toBe('constantResponse');
  });

  it('one plot', () => {
    expect(refusalOf(analyse([7], [factorOf('t', [0])])).code).toBe('tooFewPlots');
  });

  it('more effects than plots', () => {
    const refusal = refusalOf(
      analyse(
        [1, 2, 4, 3, 6],
        [factorOf('a', [0, 1, 2, 0, 1]), factorOf('b', [0, 0, 1, 1, 2]), factorOf('c', [0, 1, 0, 2, 0])],
      ),
    );
    expect(refusal).toMatchObject({ code: 'tooFewPlots', details: { plots: 5, parameters: 7 } });
  });

  it('factors crossed unevenly: a main effect is not adjusted for its interaction (by hand)', () => {
    // Cells 0 2, 2, 3, 7 9: the error within them is 2 + 2
    const values = [0, 2, 2, 3, 7, 9];
    const [a, b] = [factorOf('a', [0, 0, 0, 1, 1, 1]), factorOf('b', [0, 0, 1, 0, 1, 1])];
    const crossed = accepted(
      analyse(values, [a, b, { kind: 'interaction', id: 'a:b', factors: ['a', 'b'] }]),
    );
    const additive = accepted(analyse(values, [a, b]));
    expectRelative(crossed.rows[0]!.ss, additive.rows[0]!.ss, 1e-12);
    expectRelative(crossed.rows[1]!.ss, additive.rows[1]!.ss, 1e-12);
    expectRelative(crossed.rows[2]!.ss, additive.error.ss - crossed.error.ss, 1e-12);
    expectRelative(crossed.error.ss, 4, 1e-12);
  });

  it('a treatment that is the same as a block, naming both', () => {
    const refusal = refusalOf(
      analyse([1, 2, 4, 3, 6, 7], [factorOf('block', [0, 0, 1, 1, 2, 2]), factorOf('t', [0, 0, 1, 1, 0, 0])]),
    );
    expect(refusal).toMatchObject({
      code: 'confoundedTerms',
      details: { term: 'block', with: 't', df: 2, estimableDf: 1 },
    });
  });

  it('blocks that fall into two sets with no treatment in common', () => {
    const refusal = refusalOf(
      analyse(
        [1, 2, 4, 3, 6, 7, 5, 9],
        [factorOf('t', [0, 1, 0, 1, 2, 3, 2, 3]), factorOf('block', [0, 0, 1, 1, 2, 2, 3, 3])],
      ),
    );
    expect(refusal).toMatchObject({
      code: 'confoundedTerms',
      details: { term: 't', with: 'block', estimableDf: 2 },
    });
  });

  it('a covariate that is constant within treatments', () => {
    const covariate: ModelTerm = { kind: 'covariate', id: 'x', valueOfPlot: [5, 5, 8, 8] };
    const refusal = refusalOf(analyse([1, 2, 4, 3], [factorOf('t', [0, 0, 1, 1]), covariate]));
    expect(refusal).toMatchObject({ code: 'confoundedTerms', details: { term: 't', with: 'x' } });
  });

  it('a covariate that does not vary at all', () => {
    const covariate: ModelTerm = { kind: 'covariate', id: 'x', valueOfPlot: [5, 5, 5, 5] };
    const refusal = refusalOf(analyse([1, 2, 4, 3], [factorOf('t', [0, 0, 1, 1]), covariate]));
    expect(refusal).toMatchObject({ code: 'confoundedTerms', details: { term: 'x', with: '' } });
  });

  it('an interaction with an empty cell, naming it', () => {
    const refusal = refusalOf(
      analyse(
        [1, 2, 4, 3, 6, 5],
        [
          factorOf('a', [0, 0, 1, 0, 0, 1]),
          factorOf('b', [0, 1, 0, 0, 1, 0]),
          { kind: 'interaction', id: 'a:b', factors: ['a', 'b'] },
        ],
      ),
    );
    expect(refusal).toMatchObject({
      code: 'emptyCell',
      details: { term: 'a:b', levelOfFirst: 1, levelOfSecond: 1 },
    });
  });
});

describe('no error is never an error of its own making', () => {
  it('no error df: sums of squares, but no F, p, ms or CV', () => {
    const got = accepted(analyse([1, 2, 4], [factorOf('t', [0, 1, 2])]));
    expect(got.error).toEqual({ df: 0, ss: 0, ms: null });
    expect(got.rows[0]).toMatchObject({ df: 2, f: null, p: null });
    expect(got.cvPercent).toBeNull();
    expect(got.exactFit).toBe(false);
  });

  it('an additive table leaves an error of exactly zero, not of rounding', () => {
    const values = [0.1, 0.2, 0.3].flatMap((block) => [1.1, 1.7, 2.3].map((treatment) => block + treatment));
    const got = accepted(
      analyse(values, [
        factorOf('block', [0, 0, 0, 1, 1, 1, 2, 2, 2]),
        factorOf('t', [0, 1, 2, 0, 1, 2, 0, 1, 2]),
      ]),
    );
    expect(got.exactFit).toBe(true);
    expect(got.error).toEqual({ df: 4, ss: 0, ms: 0 });
    expect(got.rows.map((row) => [row.f, row.p])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(got.residuals.every((residual) => residual === 0)).toBe(true);
  });

  it('a factor with one level has a line without df', () => {
    const got = accepted(analyse([1, 2, 4], [factorOf('block', [0, 0, 0]), factorOf('t', [0, 1, 1])]));
    expect(got.rows[0]).toEqual({ term: 'block', df: 0, ss: 0, ms: null, f: null, p: null });
  });

  it('a mean that is not positive has no CV', () => {
    expect(accepted(analyse([-1, -2, -4, -3], [factorOf('t', [0, 0, 1, 1])])).cvPercent).toBeNull();
  });
});

describe("a programmer's mistake throws, giving got and expected", () => {
  it.each([
    ['no terms', [], 'at least one term'],
    ['lengths that differ', [factorOf('t', [0, 1])], 'expected 4 plots, got 2'],
    ['one id twice', [factorOf('t', [0, 1, 0, 1]), factorOf('t', [0, 0, 1, 1])], 'must differ'],
    ['a level on no plot', [{ kind: 'factor', id: 't', levelOfPlot: [0, 1, 0, 1], levelCount: 3 }], 'got 2'],
    [
      'a level beyond the count',
      [{ kind: 'factor', id: 't', levelOfPlot: [0, 1, 2, 1], levelCount: 2 }],
      'got 2',
    ],
    ['an unknown factor', [{ kind: 'interaction', id: 'a:b', factors: ['a', 'b'] }], 'expected a factor a'],
  ] as const)('%s', (_, terms, message) => {
    expect(() => analyse([1, 2, 4, 3], terms as readonly ModelTerm[])).toThrow(message);
  });
});
