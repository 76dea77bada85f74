import { describe, expect, it } from 'vitest';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { splitPlot } from '../../analyses/split-plot.ts';
import { splitPlotStrata } from '../../analyses/split-plot-strata.ts';
import { accepted, expectRelative, fixtureTable } from './fixture-data.ts';

type Row = Record<string, string | undefined>;

/** Yates's oats (1935): varieties on main plots, nitrogen on sub-plots, six blocks. */
const OATS = fixtureTable('yates-oats-split-plot/data.csv');
const [BLOCK, MAIN, SUB, VALUE] = ['B', 'V', 'N', 'Y'] as const;

function factorOf(id: string, rows: readonly Row[], column: string): FactorTerm {
  const names = [...new Set(rows.map((row) => row[column]))].sort();
  return {
    kind: 'factor',
    id,
    levelOfPlot: rows.map((row) => names.indexOf(row[column])),
    levelCount: names.length,
  };
}

function stratified(rows: readonly Row[]) {
  return [
    responseFromValues(rows.map((row) => Number(row[VALUE]))),
    factorOf('block', rows, BLOCK),
    factorOf('mainFactor', rows, MAIN),
    factorOf('subFactor', rows, SUB),
  ] as const;
}

describe('tests of a split plot by strata', () => {
  it('are those of the complete split plot where nothing is lost', () => {
    const given = stratified(OATS);
    const complete = accepted(splitPlot(...given, 0.05));
    const tests = splitPlotStrata(...given);
    expect(tests.map(({ source }) => source)).toEqual(['mainFactor', 'subFactor', 'interaction']);
    for (const { source, f, df, p } of tests) {
      const row = complete.rows.find((own) => own.source === source)!;
      expect(df).toBe(row.df);
      expectRelative(f, row.f!, 1e-10);
      expectRelative(p, row.p!, 1e-9);
    }
  });

  it('lose only what the lost sub-plots told: laws of what does not move', () => {
    const lost = OATS.slice(1);
    const tests = splitPlotStrata(...stratified(lost));
    // 45 df within main plots in the complete trial; one main plot of 18 is no longer whole.
    expect(tests.map(({ df, errorDf }) => [df, errorDf])).toEqual([
      [2, 9],
      [3, 44],
      [6, 44],
    ]);
    // What is the same for all sub-plots of a main plot tells nothing of sub levels.
    const moved = lost.map((row) => {
      const isFirst = row[BLOCK] === OATS[0]![BLOCK] && row[MAIN] === OATS[0]![MAIN];
      return isFirst ? { ...row, [VALUE]: String(Number(row[VALUE]) + 1000) } : row;
    });
    const again = splitPlotStrata(...stratified(moved));
    for (const k of [0, 1, 2]) expectRelative(again[k]!.f, tests[k]!.f, 1e-9);
    // A combination lost throughout takes its degree of freedom with it.
    const [main, sub] = [OATS[0]![MAIN], OATS[0]![SUB]];
    const without = OATS.filter((row) => row[MAIN] !== main || row[SUB] !== sub);
    const partly = splitPlotStrata(...stratified(without));
    expect(partly.map(({ source, df }) => [source, df])).toEqual([
      ['mainFactor', 1],
      ['subFactor', 3],
      ['interaction', 5],
    ]);
  });

  it('are those of R 4.2.2 with four sub-plots lost in three main plots', () => {
    // d <- d[-c(1, 10, 11, 40), ]; summary(aov(Y ~ V * N + Error(B/V), d))[["Error: Within"]]; main plots: the 15 whole ones,
    // m <- aggregate(Y ~ B + V, whole, mean); anova(lm(Y ~ B + V, m)).
    const lost = OATS.filter((_, k) => ![1, 10, 11, 40].includes(k + 1));
    const inR = [
      ['mainFactor', 2, 7, 2.23443431979138, 0.177631963030894],
      ['subFactor', 3, 41, 34.965043854384568, 2.22656911124182e-11],
      ['interaction', 6, 41, 0.123543581290688, 0.992857383445505],
    ] as const;
    splitPlotStrata(...stratified(lost)).forEach(({ source, df, errorDf, f, p }, k) => {
      expect([source, df, errorDf]).toEqual(inR[k]!.slice(0, 3));
      expectRelative(f, inR[k]![3], 1e-10);
      expectRelative(p, inR[k]![4], 1e-9);
    });
  });
});
