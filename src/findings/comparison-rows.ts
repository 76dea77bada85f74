import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { type Pair, pairedT } from '../../analyses/paired-t.ts';
import type { JudgedDifference, LevelPair } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
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

/**
 * Strip against strip within blocks, on the pair's own differences. Only where every block that holds one of the two
 * holds both exactly once; null elsewhere, or where their differences do not vary.
 */
export function pairedRow(
  pair: LevelPair,
  design: ResponseDesign,
  alpha: number,
  names: readonly string[],
): ReportComparison | null {
  const pairs = completePairs(pair, design);
  if (pairs === null) return null;
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

function completePairs([a, b]: LevelPair, design: ResponseDesign): readonly Pair[] | null {
  const { blockOfPlot, treatmentOfPlot, deviations } = design;
  if (blockOfPlot === null) return null;
  const pairs = new Map<number, { a: number[]; b: number[] }>();
  blockOfPlot.forEach((block, plot) => {
    const treatment = treatmentOfPlot[plot];
    if (treatment !== a && treatment !== b) return;
    const held = pairs.get(block) ?? { a: [], b: [] };
    pairs.set(block, held);
    held[treatment === a ? 'a' : 'b'].push(deviations[plot] ?? 0);
  });
  const held = [...pairs.entries()].sort(([x], [y]) => x - y).map(([, own]) => own);
  if (held.length < 2 || held.some((own) => own.a.length !== 1 || own.b.length !== 1)) return null;
  return held.map((own) => ({ a: own.a[0] ?? null, b: own.b[0] ?? null }));
}
