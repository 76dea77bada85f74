import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { splitPlotStrata } from '../../analyses/split-plot-strata.ts';
import type { Strip, TrialDocument } from '../trial/trial-document.ts';

/** An F test of treatments; all null where it cannot be had. */
export interface TestByDesign {
  readonly f: number | null;
  readonly treatmentDf: number | null;
  readonly errorDf: number | null;
  readonly p: number | null;
}

const NOT_TESTED: TestByDesign = { f: null, treatmentDf: null, errorDf: null, p: null };

interface Unit extends Strip {
  readonly value: number;
}

/**
 * Does something measured of each strip differ between treatments? F test by the trial's own design: beside rows and columns
 * of a Latin square, beside blocks, or without either. In a split plot main levels are tested by the error of main plots (those
 * that are known throughout), sub levels and combinations by that of sub-plots; the most telling of the three stands, its p
 * taken as often as there are tests (Bonferroni).
 *
 * @param values - one a strip; null: not known, left out
 */
export function testByDesign(trial: TrialDocument, values: readonly (number | null)[]): TestByDesign {
  const units = trial.strips.flatMap((strip, s) => {
    const value = values[s] ?? null;
    return value === null ? [] : [{ ...strip, value }];
  });
  const treatment = factorOfStrips(
    'treatment',
    units.map((unit) => unit.treatment),
  );
  if (treatment.levelCount < 2) return NOT_TESTED;
  if (trial.inference.factors?.split) return testOfSplitPlot(trial, units);
  const fit = fitLinearModel(responseOf(units), [...groupingsOfStrips(trial, units), treatment]);
  if (isRefusal(fit)) return NOT_TESTED;
  const row = fit.rows.find(({ term }) => term === 'treatment');
  return { f: row?.f ?? null, treatmentDf: row?.df ?? null, errorDf: fit.error.df, p: row?.p ?? null };
}

/** Rows and columns of a Latin square, or blocks, on these strips; none where a strip lacks its own or there is but one. */
export function groupingsOfStrips(
  { design, inference }: TrialDocument,
  units: readonly Strip[],
): readonly FactorTerm[] {
  const of = (id: 'block' | 'row' | 'column') => {
    const levels = units.map((unit) => unit[id] ?? null);
    return levels.some((level) => level === null)
      ? []
      : [
          factorOfStrips(
            id,
            levels.map((level) => level ?? ''),
          ),
        ];
  };
  const groupings = inference.square
    ? [...of('row'), ...of('column')]
    : design === 'randomizedCompleteBlocks'
      ? of('block')
      : [];
  return groupings.filter(({ levelCount }) => levelCount > 1);
}

function testOfSplitPlot({ treatments }: TrialDocument, units: readonly Unit[]): TestByDesign {
  // Without their blocks main plots cannot be told apart.
  if (units.some(({ block }) => block === null)) return NOT_TESTED;
  const levelsOf = new Map(treatments.map(({ id, factorLevels }) => [id, factorLevels ?? null]));
  const level = (of: 0 | 1) => units.map((unit) => levelsOf.get(unit.treatment)?.[of] ?? '');
  const block = factorOfStrips(
    'block',
    units.map((unit) => unit.block ?? ''),
  );
  const [main, sub] = [factorOfStrips('mainFactor', level(0)), factorOfStrips('subFactor', level(1))];
  const tests = splitPlotStrata(responseOf(units), block, main, sub);
  const tested = tests.map(({ f, df, errorDf, p }) => ({
    f,
    treatmentDf: df,
    errorDf,
    p: Math.min(1, tests.length * p),
  }));
  return tested.sort((a, b) => a.p - b.p)[0] ?? NOT_TESTED;
}

function responseOf(units: readonly Unit[]) {
  return { origin: 0, deviations: units.map(({ value }) => value) };
}

/** Levels in order of appearance. */
export function factorOfStrips(id: string, levels: readonly string[]): FactorTerm {
  const names = [...new Set(levels)];
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((level) => names.indexOf(level)),
    levelCount: names.length,
  };
}
