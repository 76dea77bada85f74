import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { nearestCheckPairs } from '../../analyses/nearest-check.ts';
import { type Pair, pairedT } from '../../analyses/paired-t.ts';
import type { JudgedDifference, LevelPair } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { blockPairs } from './block-pairs.ts';
import type { ReportComparison, ReportProcedure } from './report-model.ts';
import type { ResponseDesign } from './response-design.ts';

export function comparisonRow(
  procedure: ReportProcedure,
  row: JudgedDifference,
  names: readonly string[],
): ReportComparison {
  const { difference, standardError, df, t, p, pUnadjusted, lower, upper } = row;
  const [a, b] = [names[row.a] ?? '', names[row.b] ?? ''];
  return { a, b, difference, standardError, df, t, p, pUnadjusted, lower, upper, procedure };
}

/** Differences that nothing can judge: no error df. */
export function bareComparisonRow(
  pair: LevelPair,
  means: AdjustedMeans,
  names: readonly string[],
): ReportComparison {
  return {
    a: names[pair[0]] ?? '',
    b: names[pair[1]] ?? '',
    difference: differenceOf(pair, means),
    standardError: null,
    df: null,
    t: null,
    p: null,
    pUnadjusted: null,
    lower: null,
    upper: null,
    procedure: 'lsd',
  };
}

export function differenceOf([a, b]: LevelPair, means: AdjustedMeans): number {
  return (means.means[a]?.deviation ?? 0) - (means.means[b]?.deviation ?? 0);
}

/** Where every block that holds one of the two holds both exactly once. */
function wholePairs([a, b]: LevelPair, design: ResponseDesign): readonly Pair[] | null {
  const held = blockPairs(a, b, design);
  return held?.complete === true ? held.pairs : null;
}

/** Where blocks hold several strips of b: a's strip and the one of b that lies nearest. Places must be known. */
function pairsWithNearest([a, b]: LevelPair, design: ResponseDesign): readonly Pair[] | null {
  const { blockOfPlot, treatmentOfPlot, deviations, plots } = design;
  if (blockOfPlot === null || plots.some(({ place }) => place === null || place === undefined)) return null;
  const strips = plots.map(({ place }, i) => ({
    block: blockOfPlot[i] ?? 0,
    place: place ?? 0,
    treatment: treatmentOfPlot[i] ?? 0,
    value: deviations[i] ?? null,
  }));
  const isRepeated = strips.some(
    (strip, i) =>
      strip.treatment === b &&
      strips.some((other, j) => j < i && other.treatment === b && other.block === strip.block),
  );
  return isRepeated ? nearestCheckPairs(strips, a, b).map(({ pair }) => pair) : null;
}

/**
 * Strip against strip within blocks, on the pair's own differences: both once in every block that holds one of them, or
 * the nearest of several check strips. null elsewhere, or where their differences do not vary.
 */
export function pairedRow(
  pair: LevelPair,
  design: ResponseDesign,
  alpha: number,
  names: readonly string[],
): ReportComparison | null {
  const pairs = wholePairs(pair, design) ?? pairsWithNearest(pair, design);
  if (pairs === null || pairs.length < 2) return null;
  const paired = pairedT(pairs, alpha);
  if (isRefusal(paired)) return null;
  const { meanDifference, standardError, df, t, p, lower, upper } = paired;
  return {
    a: names[pair[0]] ?? '',
    b: names[pair[1]] ?? '',
    difference: meanDifference,
    standardError,
    df,
    t,
    p,
    pUnadjusted: p,
    lower,
    upper,
    procedure: 'paired',
  };
}
