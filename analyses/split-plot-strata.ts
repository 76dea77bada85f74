import { leftOfFactor } from './left-of-factor.ts';
import { type AnovaRow, fitLinearModel } from './linear-model.ts';
import type { FactorTerm } from './model-terms.ts';
import { isRefusal } from './refusal.ts';
import type { Response } from './response.ts';

/** One F test of a split plot. */
export interface StratumTest {
  readonly source: 'mainFactor' | 'subFactor' | 'interaction';
  readonly f: number;
  readonly df: number;
  readonly errorDf: number;
  readonly p: number;
}

/**
 * Do main levels, sub levels or their combinations differ in a split plot of which some sub-plots have no value?
 *
 * Definition: sub levels and combinations are tested within main plots, whose own effects are taken out, by what varies
 * within them (exact with any sub-plots lost: each main plot cancels). Main levels are tested between main plots within
 * blocks on the means of those main plots that have every sub level once, since only these share one variance. With nothing
 * lost both are the tests of {@link splitPlot}. A combination that was lost throughout takes its degree of freedom with it.
 *
 * @param response - one value a sub-plot
 * @param block - of main plots
 * @param mainFactor - one level a main plot
 * @param subFactor - randomised within main plots
 * @returns those tests that can be had; none is no refusal
 * Source: W. G. Cochran & G. M. Cox (1957) Experimental Designs, ch. 7; for strata and lost values J. A. Nelder (1965) Proc. R.
 * Soc. A 283:147-178.
 */
export function splitPlotStrata(
  response: Response,
  block: FactorTerm,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
): readonly StratumTest[] {
  const mainPlot = crossed('mainPlot', block, mainFactor);
  return [
    ...betweenMainPlots(response, mainPlot, block, mainFactor, subFactor),
    ...withinMainPlots(response, mainPlot, mainFactor, subFactor),
  ];
}

function betweenMainPlots(
  { origin, deviations }: Response,
  mainPlot: FactorTerm,
  block: FactorTerm,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
): StratumTest[] {
  const whole = Array.from({ length: mainPlot.levelCount }, (_, own) =>
    mainPlot.levelOfPlot.flatMap((level, plot) => (level === own ? [plot] : [])),
  ).filter((plots) => {
    const levels = new Set(plots.map((plot) => subFactor.levelOfPlot[plot]));
    return plots.length === subFactor.levelCount && levels.size === subFactor.levelCount;
  });
  const means = whole.map((plots) => plots.reduce((sum, plot) => sum + deviations[plot]! / plots.length, 0));
  const of = ({ id, levelOfPlot }: FactorTerm) =>
    levelled(
      id,
      whole.map(([first]) => levelOfPlot[first!]!),
    );
  const main = of(mainFactor);
  if (main.levelCount < 2) return [];
  const blocks = of(block);
  const fit = fitLinearModel({ origin, deviations: means }, [
    ...(blocks.levelCount > 1 ? [blocks] : []),
    main,
  ]);
  return isRefusal(fit) ? [] : tested('mainFactor', fit.rows, main.id, fit.error.df);
}

function withinMainPlots(
  response: Response,
  mainPlot: FactorTerm,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
): StratumTest[] {
  if (mainPlot.levelCount < 2 || subFactor.levelCount < 2) return [];
  const combination = crossed('interaction', mainFactor, subFactor);
  // Free of main plots and sub levels, so that it takes nothing from the latter.
  const { term } = leftOfFactor(combination, [mainPlot, subFactor]);
  const fit = fitLinearModel(response, [mainPlot, subFactor, ...(term === null ? [] : [term])]);
  if (isRefusal(fit)) return [];
  return [
    ...tested('subFactor', fit.rows, subFactor.id, fit.error.df),
    ...tested('interaction', fit.rows, combination.id, fit.error.df),
  ];
}

function tested(
  source: StratumTest['source'],
  rows: readonly AnovaRow[],
  id: string,
  errorDf: number,
): StratumTest[] {
  const row = rows.find(({ term }) => term === id);
  if (row === undefined || row.f === null || row.p === null) return [];
  return [{ source, f: row.f, df: row.df, errorDf, p: row.p }];
}

function crossed(id: string, a: FactorTerm, b: FactorTerm): FactorTerm {
  return levelled(
    id,
    a.levelOfPlot.map((level, plot) => level * b.levelCount + b.levelOfPlot[plot]!),
  );
}

/** Levels that occur, renumbered in their order. */
function levelled(id: string, levels: readonly number[]): FactorTerm {
  const known = [...new Set(levels)].sort((a, b) => a - b);
  const place = new Map(known.map((level, index) => [level, index]));
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((level) => place.get(level) ?? 0),
    levelCount: known.length,
  };
}
