import { describe, expect, it } from 'vitest';
import { bartlett } from '../../analyses/bartlett.ts';
import { brownForsythe } from '../../analyses/brown-forsythe.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import { nonadditivity } from '../../analyses/nonadditivity.ts';
import { pitmanMorgan } from '../../analyses/pitman-morgan.ts';
import { residualTrend } from '../../analyses/residual-trend.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { shapiroWilk } from '../../analyses/shapiro-wilk.ts';
import { studentizedResiduals } from '../../analyses/studentized-residuals.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  labels,
  numbers,
  refusalOf,
} from './fixture-data.ts';

interface Checked {
  readonly computed: {
    readonly shapiro_resid: { readonly W: number; readonly p: number };
    readonly shapiro_diff: { readonly W: number; readonly p: number };
    readonly bartlett: { readonly K2: number; readonly df: number; readonly p: number };
    readonly bartlett_raw_by_trt: { readonly K2: number; readonly p: number };
    readonly levene_median: {
      readonly F: number;
      readonly df1: number;
      readonly df2: number;
      readonly p: number;
    };
    readonly levene_median_raw_by_trt: { readonly F: number; readonly p: number };
    readonly nonadditivity: {
      readonly ss_nonadd: number;
      readonly ss_remainder: number;
      readonly df_remainder: number;
      readonly F: number;
      readonly p: number;
    };
  };
}

function fitted(name: string, response: string, columns: readonly string[]): LinearModelFit {
  const table = fixtureTable(`${name}/data.csv`);
  const terms = columns.map((column) => factor(table, column));
  return accepted(fitLinearModel(responseFromValues(numbers(table, response)), terms));
}

function groupsOf(name: string, response: string, column: string): number[][] {
  const table = fixtureTable(`${name}/data.csv`);
  return labels(table, column).map((label) =>
    numbers(
      table.filter((row) => row[column] === label),
      response,
    ),
  );
}

const oneWay = [
  ['plant-growth', 'weight', 'group'],
  ['nist-gear', 'diameter', 'batch'],
  ['nist-tukey-example', 'y', 'g'],
  ['dunnett-blood-counts', 'y', 'grp'],
] as const;
const blocks = [
  ['gomez-seeding-rate', 'yield', 'rep', 'rate'],
  ['snedecor-soybean', 'failures', 'block', 'trt'],
  ['montgomery-tips', 'y', 'block', 'tip'],
] as const;
const paired = [
  ['student-sleep', 'drug1', 'drug2'],
  ['shoe-wear', 'A', 'B'],
  ['darwin-maize', 'cross', 'self'],
  ['wilcoxon-depression', 'x', 'y'],
] as const;

const pairsOf = (name: string, a: string, b: string) =>
  fixtureTable(`${name}/data.csv`).map((row) => ({ a: Number(row[a]), b: Number(row[b]) }));

describe('Shapiro-Wilk against R (W 1e-10, p 1e-8)', () => {
  it.each([
    ...oneWay.map(([name, y, group]) => [name, y, [group]] as const),
    ...blocks.map(([name, y, b, t]) => [name, y, [b, t]] as const),
  ])('residuals of %s', (name, response, columns) => {
    const { W, p } = fixtureExpected<Checked>(name).computed.shapiro_resid;
    const got = accepted(shapiroWilk(fitted(name, response, columns).residuals));
    expectRelative(got.w, W, 1e-10);
    expectRelative(got.p, p, 1e-8);
  });

  it.each(paired)('differences of %s', (name, a, b) => {
    const { W, p } = fixtureExpected<Checked>(name).computed.shapiro_diff;
    const got = accepted(shapiroWilk(pairsOf(name, a, b).map((pair) => pair.a - pair.b)));
    expectRelative(got.w, W, 1e-10);
    expectRelative(got.p, p, 1e-8);
  });

  it('does not depend on order, origin or unit', () => {
    const values = [3, 1, 4, 1.5, 9, 2.6, 5.3];
    const { w, p } = accepted(shapiroWilk(values));
    const moved = accepted(shapiroWilk([...values].reverse().map((value) => 1000 - 7 * value)));
    expectRelative(moved.w, w, 1e-12);
    expectRelative(moved.p, p, 1e-10);
  });

  it('refuses two values, equal ones, and what is not finite', () => {
    expect(refusalOf(shapiroWilk([1, 2])).code).toBe('tooFewPlots');
    expect(refusalOf(shapiroWilk([2, 2, 2, 2])).code).toBe('constantResponse');
    expect(refusalOf(shapiroWilk([1, 2, Number.NaN])).code).toBe('nonFiniteValue');
    expect(() => shapiroWilk(new Array(5001).fill(0))).toThrow('5001');
  });
});

describe('equal variances against R (1e-10)', () => {
  it.each(oneWay)('%s', (name, response, group) => {
    const { bartlett: b, levene_median: levene } = fixtureExpected<Checked>(name).computed;
    const groups = groupsOf(name, response, group);
    const gotB = accepted(bartlett(groups));
    const gotF = accepted(brownForsythe(groups));
    expect([gotB.df, gotF.df1, gotF.df2]).toEqual([b.df, levene.df1, levene.df2]);
    expectRelative(gotB.chiSquared, b.K2, 1e-9);
    expectRelative(gotB.p, b.p, 1e-9);
    expectRelative(gotF.f, levene.F, 1e-10);
    expectRelative(gotF.p, levene.p, 1e-10);
  });

  it.each(blocks)('%s by treatment', (name, response, _, treatment) => {
    const { bartlett_raw_by_trt: b, levene_median_raw_by_trt: levene } =
      fixtureExpected<Checked>(name).computed;
    const groups = groupsOf(name, response, treatment);
    expectRelative(accepted(bartlett(groups)).chiSquared, b.K2, 1e-9);
    expectRelative(accepted(brownForsythe(groups)).f, levene.F, 1e-10);
  });

  it('gear diameters, to the digits NIST prints: 20.7859 and 1.7059', () => {
    const groups = groupsOf('nist-gear', 'diameter', 'batch');
    expect(accepted(bartlett(groups)).chiSquared.toFixed(4)).toBe('20.7859');
    expect(accepted(brownForsythe(groups)).f.toFixed(4)).toBe('1.7059');
  });

  it('groups of two decimals: their distances from the median differ by rounding only, and that is no variation', () => {
    const groups = [
      [1.1, 3.3],
      [4.2, 8.4],
      [0.1, 0.7],
    ];
    expect(refusalOf(brownForsythe(groups)).code).toBe('noErrorVariation');
    expect(
      refusalOf(
        bartlett([
          [0.3, 0.1 + 0.2],
          [1, 2],
        ]),
      ),
    ).toMatchObject({ code: 'noErrorVariation', details: { group: 0 } });
  });

  it('refuses one group, a group of one, no variation', () => {
    expect(refusalOf(bartlett([[1, 2]])).code).toBe('tooFewTreatments');
    expect(refusalOf(bartlett([[1, 2], [3]]))).toMatchObject({ code: 'tooFewPlots', details: { group: 1 } });
    expect(
      refusalOf(
        bartlett([
          [1, 2],
          [3, 3],
        ]),
      ).code,
    ).toBe('noErrorVariation');
    expect(
      refusalOf(
        brownForsythe([
          [1, 3],
          [4, 8],
        ]),
      ).code,
    ).toBe('noErrorVariation');
    expect(
      refusalOf(
        brownForsythe([
          [1, 3, Number.NaN],
          [4, 8, 7],
        ]),
      ).code,
    ).toBe('nonFiniteValue');
  });
});

describe('Pitman-Morgan', () => {
  it('is the correlation of sums and differences, and turns over with the treatments', () => {
    const pairs = pairsOf('student-sleep', 'drug1', 'drug2');
    const got = accepted(pitmanMorgan(pairs));
    const turned = accepted(pitmanMorgan(pairs.map(({ a, b }) => ({ a: b, b: a }))));
    expect(turned.correlation).toBeCloseTo(-got.correlation, 14);
    expect([got.df, got.completePairs]).toEqual([8, 10]);
    // The ratio form of the same t: (F - 1) sqrt(df) / (2 sqrt(F (1 - r^2))), r the correlation of a and b (Pitman 1939)
    const [a, b] = [pairs.map((pair) => pair.a), pairs.map((pair) => pair.b)];
    const moment = (x: number[], y: number[]) => {
      const [mx, my] = [x, y].map((z) => z.reduce((s, v) => s + v, 0) / z.length) as [number, number];
      return x.reduce((s, v, i) => s + (v - mx) * (y[i]! - my), 0);
    };
    const ratio = moment(a, a) / moment(b, b);
    const r2 = moment(a, b) ** 2 / (moment(a, a) * moment(b, b));
    expectRelative(got.t, ((ratio - 1) * Math.sqrt(8)) / (2 * Math.sqrt(ratio * (1 - r2))), 1e-12);
  });

  it('a treatment that does not vary at all: full correlation, p 0, no t', () => {
    const got = accepted(pitmanMorgan([1.1, 2.3, 4.7, 3.1].map((a) => ({ a, b: 0.7 }))));
    expect(got).toMatchObject({ t: null, p: 0, df: 2 });
    expect(got.correlation).toBeCloseTo(1, 12);
  });

  it('refuses two pairs and differences that do not vary', () => {
    expect(
      refusalOf(
        pitmanMorgan([
          { a: 1, b: 2 },
          { a: 3, b: 5 },
        ]),
      ).code,
    ).toBe('noCompletePair');
    expect(refusalOf(pitmanMorgan([1, 2, 4].map((a) => ({ a, b: a + 1 })))).code).toBe('noErrorVariation');
  });
});

describe("Tukey's one degree of freedom against R (1e-9)", () => {
  it.each([...blocks, ['montgomery-impurity', 'y', 'temp', 'pressure']] as const)(
    '%s',
    (name, response, block, treatment) => {
      const want = fixtureExpected<Checked>(name).computed.nonadditivity;
      const got = accepted(nonadditivity(fitted(name, response, [block, treatment])));
      expectRelative(got.ss, want.ss_nonadd, 1e-9);
      expectRelative(got.remainder.ss, want.ss_remainder, 1e-9);
      expect(got.remainder.df).toBe(want.df_remainder);
      expectRelative(got.f, want.F, 1e-9);
      expectRelative(got.p, want.p, 1e-9);
    },
  );

  it('refuses two treatments in two blocks: one error df cannot be shared', () => {
    const terms = [
      { kind: 'factor', id: 'b', levelOfPlot: [0, 0, 1, 1], levelCount: 2 },
      { kind: 'factor', id: 't', levelOfPlot: [0, 1, 0, 1], levelCount: 2 },
    ] as const;
    const fit = accepted(fitLinearModel(responseFromValues([1, 2, 4, 7]), terms));
    expect(refusalOf(nonadditivity(fit)).code).toBe('noErrorDf');
  });
});

describe('trend and single plots', () => {
  const fit = fitted('gomez-seeding-rate', 'yield', ['rep', 'rate']);

  it('a trend along the places takes what the extended model says; a place that follows blocks is refused', () => {
    const places = fit.residuals.map((_, i) => (i * 7) % 24);
    const got = accepted(residualTrend(fit, places));
    expectRelative(got.ss + got.remainder.ss, fit.error.ss, 1e-12);
    expect(got.remainder.df).toBe(fit.error.df - 1);
    const block = fit.terms[0]!;
    expect(block.kind).toBe('factor');
    const along = block.kind === 'factor' ? block.levelOfPlot : [];
    expect(refusalOf(residualTrend(fit, along)).code).toBe('confoundedTerms');
  });

  it('leverages in complete blocks are all (t + b - 1) / n; t is that of dropping the plot', () => {
    const { residuals, df } = accepted(studentizedResiduals(fit));
    expect(df).toBe(14);
    for (const row of residuals) expectRelative(row.leverage, (6 + 4 - 1) / 24, 1e-12);
    // Dropping a plot is the same as giving it a column of its own, whose F is t squared
    const marker = fit.residuals.map((_, i) => (i === 5 ? 1 : 0));
    const own = accepted(
      fitLinearModel(fit.response, [...fit.terms, { kind: 'covariate', id: 'plot', valueOfPlot: marker }]),
    );
    expectRelative(residuals[5]!.t! ** 2, own.rows[2]!.f!, 1e-10);
    expectRelative(residuals[5]!.pUnadjusted, own.rows[2]!.p!, 1e-10);
    expectRelative(residuals[5]!.p, Math.min(1, 24 * own.rows[2]!.p!), 1e-10);
  });

  it('a plot that alone sets its fit has no studentized residual', () => {
    const terms = [{ kind: 'factor', id: 't', levelOfPlot: [0, 0, 0, 0, 1], levelCount: 2 }] as const;
    const alone = accepted(
      studentizedResiduals(accepted(fitLinearModel(responseFromValues([1, 2, 4, 3, 9]), terms))),
    );
    expect(alone.residuals[4]).toMatchObject({ t: null, p: null });
    expect(alone.residuals[0]!.t).not.toBeNull();
  });

  it('one plot off, all others exact: p 0, no t', () => {
    const terms = [{ kind: 'factor', id: 't', levelOfPlot: [0, 0, 0, 1, 1, 1], levelCount: 2 }] as const;
    const fitOfOne = accepted(fitLinearModel(responseFromValues([0.3, 0.3, 0.9, 0.7, 0.7, 0.7]), terms));
    expect(accepted(studentizedResiduals(fitOfOne)).residuals[2]).toMatchObject({ t: null, p: 0 });
  });

  it('without two error df, refused', () => {
    const terms = [{ kind: 'factor', id: 't', levelOfPlot: [0, 0, 1], levelCount: 2 }] as const;
    expect(
      refusalOf(studentizedResiduals(accepted(fitLinearModel(responseFromValues([1, 2, 4]), terms)))).code,
    ).toBe('noErrorDf');
  });
});
