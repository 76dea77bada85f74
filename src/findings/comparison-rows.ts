import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { pairedT } from '../../analyses/paired-t.ts';
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
  const held = blockPairs(pair[0], pair[1], design);
  if (held === null || !held.complete || held.pairs.length < 2) return null;
  const paired = pairedT(held.pairs, alpha);
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
