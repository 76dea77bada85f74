import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { bonferroni } from '../../analyses/bonferroni.ts';
import { fisherLsd } from '../../analyses/fisher-lsd.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { combinedErrors } from '../../analyses/satterthwaite.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { splitBlock } from '../../analyses/split-block.ts';
import { splitPlot } from '../../analyses/split-plot.ts';
import { splitPlotComparisons } from '../../analyses/split-plot-comparisons.ts';
import {
  accepted,
  type ExpectedAnova,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  numbers,
  refusalOf,
  type Table,
} from './fixture-data.ts';

const rice = fixtureTable('gomez-rice-split-block/data.csv');
const analysed = (table: Table) =>
  splitBlock(
    responseFromValues(numbers(table, 'yield')),
    factor(table, 'rep'),
    factor(table, 'variety'),
    factor(table, 'nitrogen'),
  );

describe('split block: six varieties across three nitrogen rates (fixtures/gomez-rice-split-block)', () => {
  const got = accepted(analysed(rice));

  it('R, aov with Error strata (1e-9)', () => {
    const want = fixtureExpected<ExpectedAnova>('gomez-rice-split-block');
    const keys = [
      'rep|Residuals',
      'rep:variety|variety',
      'rep:variety|Residuals',
      'rep:nitrogen|nitrogen',
      'rep:nitrogen|Residuals',
      'Within|variety:nitrogen',
      'Within|Residuals',
    ];
    got.rows.forEach((row, i) => {
      const line = want[keys[i]!]!;
      expect(row.df, keys[i]).toBe(line.df);
      expectRelative(row.ss, line.ss, 1e-10, keys[i]);
      if (line.F === null) expect([row.f, row.p]).toEqual([null, null]);
      else {
        expectRelative(row.f, line.F, 1e-9, keys[i]);
        expectRelative(row.p, line.p!, 1e-9, keys[i]);
      }
    });
  });

  it('to the digits printed (Gomez & Gomez 1984, section 3.4; from memory)', () => {
    expect(got.rows.map((row) => Math.round(row.ss))).toEqual([
      9220962, 57100201, 14922619, 50676061, 2974908, 23877979, 8232917,
    ]);
    expect(got.rows.flatMap((row) => (row.f === null ? [] : [row.f.toFixed(2)]))).toEqual([
      '7.65',
      '34.07',
      '5.80',
    ]);
  });

  it('the parts add up to the total; cells average to the margins', () => {
    expectRelative(
      got.rows.reduce((sum, row) => sum + row.ss, 0),
      got.total.ss,
      1e-12,
    );
    const { first, second, cells } = got.means;
    expect([first.length, second.length, cells.length]).toEqual([6, 3, 18]);
    expectRelative(cells.slice(3, 6).reduce((sum, mean) => sum + mean.mean, 0) / 3, first[1]!.mean, 1e-13);
  });

  it('standard errors of difference: the formulas of the field book (Gomez & Gomez 1984, section 3.4; from memory)', () => {
    const [ea, eb, ec] = [2, 4, 6].map((i) => got.rows[i]!.ms) as [number, number, number];
    const [r, a, b] = [3, 6, 3];
    const { first, second, firstAtSecond, secondAtFirst } = got.differences;
    expectRelative(first[0]!.standardError, Math.sqrt((2 * ea) / (r * b)), 1e-12);
    expectRelative(second[0]!.standardError, Math.sqrt((2 * eb) / (r * a)), 1e-12);
    expectRelative(firstAtSecond[0]!.standardError, Math.sqrt((2 * ((b - 1) * ec + ea)) / (r * b)), 1e-12);
    expectRelative(secondAtFirst[0]!.standardError, Math.sqrt((2 * ((a - 1) * ec + eb)) / (r * a)), 1e-12);
    expect([first.length, second.length, firstAtSecond.length, secondAtFirst.length]).toEqual([
      15, 3, 45, 18,
    ]);
    expect(got.differences.bothDiffer.length).toBe(153 - 45 - 18);
    expect([first[0]!.df, second[0]!.df]).toEqual([10, 4]);
    for (const [rows, most] of [
      [firstAtSecond, 30],
      [secondAtFirst, 24],
    ] as const) {
      expect(rows[0]!.df).toBeGreaterThan(4);
      expect(rows[0]!.df).toBeLessThan(most);
    }
  });

  it('simulated: the mean of each squared standard error is the variance of its differences', () => {
    const shape = { blocks: 3, first: 3, second: 2 };
    const seen: Record<string, { squares: number; variance: number }> = {};
    for (const draw of drawn(shape, 1500)) {
      const { differences } = accepted(splitBlock(draw.response, draw.block, draw.first, draw.second));
      for (const [kind, rows] of Object.entries(differences)) {
        seen[kind] ??= { squares: 0, variance: 0 };
        seen[kind].squares += rows[0]!.difference ** 2;
        seen[kind].variance += rows[0]!.standardError ** 2;
      }
    }
    expect(Object.keys(seen).length).toBe(5);
    // Squares of 1500 draws are known to sqrt(2 / 1500) = 3.7 %, errors on 2 df to 2.6 %: 4.5 % together, times 4.
    for (const [kind, { squares, variance }] of Object.entries(seen))
      expect(Math.abs(squares / variance - 1), kind).toBeLessThan(0.18);
  });

  it('refuses what it cannot carry', () => {
    expect(refusalOf(analysed(rice.slice(1)))).toMatchObject({
      code: 'emptyCell',
      details: { block: 0, first: 0, second: 2, plots: 0 },
    });
    expect(refusalOf(analysed(rice.filter((row) => row.rep === 'R1'))).code).toBe('noErrorDf');
    expect(refusalOf(analysed(rice.filter((row) => row.nitrogen === '0'))).code).toBe('tooFewTreatments');
    const additive = rice.map((row, i) => ({ ...row, yield: `${(i % 3) + 10 * Math.floor(i / 18)}` }));
    expect(refusalOf(analysed(additive)).code).toBe('noErrorVariation');
  });
});

describe('split plot: means and pairs of all kinds (fixtures/yates-oats-split-plot)', () => {
  const oats = fixtureTable('yates-oats-split-plot/data.csv');
  const [response, block, main, sub] = [
    responseFromValues(numbers(oats, 'Y')),
    factor(oats, 'B'),
    factor(oats, 'V'),
    factor(oats, 'N'),
  ];
  const analysis = accepted(splitPlot(response, block, main, sub, 0.05));
  const got = splitPlotComparisons(response, main, sub, analysis);

  it('least significant differences as in the analysis, where one error enters', () => {
    const { main: m, sub: s, subWithinMain } = got.differences;
    expectRelative(accepted(fisherLsd(m, 0.05)).lsd, analysis.differences.main.lsd, 1e-12);
    expectRelative(accepted(fisherLsd(s, 0.05)).lsd, analysis.differences.sub.lsd, 1e-12);
    expectRelative(
      accepted(fisherLsd(subWithinMain, 0.05)).lsd,
      analysis.differences.subWithinMain.lsd,
      1e-12,
    );
    expect([m.length, s.length, subWithinMain.length]).toEqual([3, 6, 18]);
    expect([got.differences.mainAtSub.length, got.differences.bothDiffer.length]).toEqual([12, 36]);
  });

  it("where both enter, Satterthwaite's df of R (fixture), between the two errors' df", () => {
    const { seds } = fixtureExpected<{ computed: { seds: Record<string, number> } }>(
      'yates-oats-split-plot',
    ).computed;
    const [row] = got.differences.mainAtSub;
    expectRelative(row!.df, seds.satterthwaite_df!, 1e-10);
    expectRelative(row!.standardError, seds.sed_main_at_same_or_diff_sub!, 1e-10);
    expect(accepted(bonferroni(got.differences.mainAtSub, 0.05)).comparisons.length).toBe(12);
  });

  it('means are the adjusted means of the model with blocks', () => {
    const fit = accepted(
      fitLinearModel(response, [block, main, sub, { kind: 'interaction', id: 'V:N', factors: ['V', 'N'] }]),
    );
    for (const [own, term] of [
      [got.means.first, 'V'],
      [got.means.second, 'N'],
      [got.means.cells, 'V:N'],
    ] as const)
      accepted(adjustedMeans(fit, term)).means.forEach((mean, i) => {
        expectRelative(own[i]!.mean, mean.mean, 1e-12, term);
      });
  });

  it('one error alone keeps its df', () => {
    expectRelative(combinedErrors([{ weight: 3, ms: 7, df: 10 }]).df, 10, 1e-14);
    // (1 + 1)^2 / (1/5 + 1/5): by hand
    expectRelative(
      combinedErrors([
        { weight: 1, ms: 1, df: 5 },
        { weight: 0.5, ms: 2, df: 5 },
      ]).df,
      10,
      1e-14,
    );
    expect(() => splitPlotComparisons(responseFromValues([1, 2]), main, sub, analysis)).toThrow('expected 2');
  });
});

interface Drawn {
  readonly response: ReturnType<typeof responseFromValues>;
  readonly block: FactorTerm;
  readonly first: FactorTerm;
  readonly second: FactorTerm;
}

/** Split blocks without effects: strips one way with variance 4, across 2.25, pieces 1. */
function drawn(
  { blocks, first, second }: { blocks: number; first: number; second: number },
  draws: number,
): Drawn[] {
  const random = seededGenerator(1937);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const plots = Array.from({ length: blocks * first * second }, (_, i) => i);
  const term = (id: string, level: (plot: number) => number, levelCount: number): FactorTerm => ({
    kind: 'factor',
    id,
    levelOfPlot: plots.map(level),
    levelCount,
  });
  const terms = {
    block: term('b', (i) => Math.floor(i / (first * second)), blocks),
    first: term('f', (i) => Math.floor(i / second) % first, first),
    second: term('s', (i) => i % second, second),
  };
  return Array.from({ length: draws }, () => {
    const strips = Array.from({ length: blocks * first }, () => 2 * normal());
    const across = Array.from({ length: blocks * second }, () => 1.5 * normal());
    const values = plots.map(
      (i) =>
        strips[terms.block.levelOfPlot[i]! * first + terms.first.levelOfPlot[i]!]! +
        across[terms.block.levelOfPlot[i]! * second + terms.second.levelOfPlot[i]!]! +
        normal(),
    );
    return { response: responseFromValues(values), ...terms };
  });
}
