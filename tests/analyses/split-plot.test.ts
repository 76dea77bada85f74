import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { type SplitPlot, splitPlot } from '../../analyses/split-plot.ts';
import {
  accepted,
  type ExpectedAnova,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  labels,
  numbers,
  refusalOf,
} from './fixture-data.ts';

interface SplitExample {
  readonly computed: { readonly anova: ExpectedAnova; readonly seds: Readonly<Record<string, number>> };
}

const cases = [
  ['yates-oats-split-plot', 'Y', 'B', 'V', 'N'],
  ['gomez-rice-split-plot', 'yield', 'rep', 'nitro', 'variety'],
] as const;

function analysed(name: string, response: string, block: string, main: string, sub: string): SplitPlot {
  const table = fixtureTable(`${name}/data.csv`);
  const terms = [factor(table, block), factor(table, main), factor(table, sub)] as const;
  return accepted(splitPlot(responseFromValues(numbers(table, response)), ...terms, 0.05));
}

describe('split plots against R (aov with Error; 1e-9)', () => {
  it.each(cases)('%s', (name, response, block, main, sub) => {
    const { anova, seds } = fixtureExpected<SplitExample>(name).computed;
    const got = analysed(name, response, block, main, sub);
    const interaction = Object.keys(anova).find((key) => /^Within\|.+:/.test(key))!;
    const keys = [
      `${block}|Residuals`,
      `${block}:${main}|${main}`,
      `${block}:${main}|Residuals`,
      `Within|${sub}`,
      interaction,
      'Within|Residuals',
    ];
    got.rows.forEach((row, i) => {
      const want = anova[keys[i]!]!;
      expect(row.df, keys[i]).toBe(want.df);
      expectRelative(row.ss, want.ss, 1e-10, keys[i]);
      if (want.F === null) expect(row.f).toBeNull();
      else {
        expectRelative(row.f, want.F, 1e-9, `${keys[i]} F`);
        expectRelative(row.p, want.p!, 1e-9, `${keys[i]} p`);
      }
    });
    const { main: m, sub: s, subWithinMain, mainAtSub } = got.differences;
    expectRelative(m.standardError, seds.sed_main!, 1e-10);
    expectRelative(s.standardError, seds.sed_sub!, 1e-10);
    expectRelative(subWithinMain.standardError, seds.sed_sub_within_main!, 1e-10);
    expectRelative(mainAtSub.standardError, seds.sed_main_at_same_or_diff_sub!, 1e-10);
    expectRelative(m.lsd, seds.lsd_main!, 1e-10);
    expectRelative(s.lsd, seds.lsd_sub!, 1e-10);
    expectRelative(subWithinMain.lsd, seds.lsd_sub_within_main!, 1e-10);
    expectRelative(mainAtSub.criticalValue, seds.t_weighted!, 1e-10);
    expectRelative(mainAtSub.lsd, seds.lsd_main_diff!, 1e-10);
    expectRelative(mainAtSub.df, seds.satterthwaite_df!, 1e-10);
  });

  it('rice, to the digits printed (Gomez & Gomez 1984, table 3.8; from memory)', () => {
    const got = analysed(...cases[1]);
    expect(got.rows.map((row) => Math.round(row.ss))).toEqual([
      1082577, 30429200, 1419679, 89888101, 69343487, 12584873,
    ]);
    expect([got.cvMainPercent!.toFixed(1), got.cvSubPercent!.toFixed(1)]).toEqual(['6.9', '10.8']);
  });

  it('the parts add up to the total', () => {
    const got = analysed(...cases[0]);
    expectRelative(
      got.rows.reduce((sum, row) => sum + row.ss, 0),
      got.total.ss,
      1e-12,
    );
    expect(got.rows.reduce((sum, row) => sum + row.df, 0)).toBe(got.total.df);
  });

  it('refuses what it cannot carry', () => {
    const table = fixtureTable('yates-oats-split-plot/data.csv');
    const split = (rows: typeof table, alpha = 0.05) =>
      splitPlot(
        responseFromValues(numbers(rows, 'Y')),
        factor(rows, 'B'),
        factor(rows, 'V'),
        factor(rows, 'N'),
        alpha,
      );
    expect(refusalOf(split(table.slice(1)))).toMatchObject({ code: 'emptyCell' });
    expect(refusalOf(split([...table, table[0]!]))).toMatchObject({
      code: 'emptyCell',
      details: { plots: 2 },
    });
    expect(refusalOf(split(table.filter((row) => row.B === 'I'))).code).toBe('noErrorDf');
    expect(refusalOf(split(table.filter((row) => row.V === 'Victory'))).code).toBe('tooFewTreatments');
    expect(refusalOf(split(table, 0)).code).toBe('alphaOutOfRange');
  });
});

describe('Latin square: maize hybrids (Gomez & Gomez 1984, tables 2.7 and 2.8)', () => {
  const table = fixtureTable('gomez-maize-latin-square/data.csv');
  const terms = ['row', 'col', 'hybrid'].map((column) => factor(table, column));
  const fit = accepted(fitLinearModel(responseFromValues(numbers(table, 'yield')), terms));

  it('to the digits printed (from memory)', () => {
    // Table 2.8 prints 0.030154 0.827342 0.426842 0.129585 1.413923; truncated, as 0.0301547 shows
    const truncated = [...fit.rows.map((row) => row.ss), fit.total.ss].map(
      (ss) => Math.floor(ss * 1e6) / 1e6,
    );
    expect(truncated).toEqual([0.030154, 0.827342, 0.426842, 1.413923]);
    expect(fit.rows[2]!.f!.toFixed(2)).toBe('6.59');
    expect(fit.cvPercent!.toFixed(1)).toBe('11.0');
  });

  it('means and standard errors', () => {
    const { summary } = fixtureExpected<{
      computed: {
        summary: Readonly<Record<string, number>> & { readonly means: Readonly<Record<string, number>> };
      };
    }>('gomez-maize-latin-square').computed;
    const names = labels(table, 'hybrid');
    for (const mean of accepted(adjustedMeans(fit, 'hybrid')).means) {
      expectRelative(mean.mean, summary.means[names[mean.level]!]!, 1e-12);
      expectRelative(mean.standardError, summary.se_mean!, 1e-10);
    }
  });
});
