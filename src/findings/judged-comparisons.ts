import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { twoOneSidedTests } from '../../analyses/equivalence.ts';
import type { LevelPair, PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { JudgedComparison } from './comparison-answer.ts';
import { differenceOf } from './comparison-rows.ts';
import type { Decided } from './deciding-procedure.ts';
import type { ReportAnswer } from './report-model.ts';
import type { ResponseFit } from './response-fit.ts';
import type { Judging } from './response-plots.ts';

/** Treatments by level, as tables name them and as sentences call them. */
export interface ComparedNames {
  readonly names: readonly string[];
  readonly said: readonly string[];
}

function namesOf(
  [a, b]: LevelPair,
  { names, said }: ComparedNames,
): Pick<JudgedComparison, 'a' | 'b' | 'saidA' | 'saidB'> {
  return { a: names[a] ?? '', b: names[b] ?? '', saidA: said[a] ?? '', saidB: said[b] ?? '' };
}

/** What the deciding procedure made of each comparison that matters, with its equivalence interval. */
export function judgedComparisons(
  differences: readonly PairwiseDifference[],
  decided: Decided,
  judging: Judging,
  names: ComparedNames,
): readonly JudgedComparison[] {
  return differences.map((row, i) => {
    const interval = decided.intervals[i];
    return {
      pair: [row.a, row.b],
      ...namesOf([row.a, row.b], names),
      estimate: row.difference,
      standardError: row.standardError,
      real: decided.real[i] ?? false,
      lower: interval?.lower ?? null,
      upper: interval?.upper ?? null,
      intervalProcedure: decided.intervalProcedure,
      test: { t: row.t, df: row.df, p: decided.p[i] ?? row.pUnadjusted },
      equivalence: equivalenceOf(row, judging),
    };
  });
}

/** Differences that stand without an error to judge them by. */
export function unjudgedComparisons(
  { means }: ResponseFit,
  pairs: readonly LevelPair[],
  judging: Judging,
  names: ComparedNames,
): readonly JudgedComparison[] {
  return pairs.map((pair) => ({
    pair,
    ...namesOf(pair, names),
    estimate: differenceOf(pair, means),
    standardError: null,
    real: null,
    lower: null,
    upper: null,
    intervalProcedure: 'none',
    test: null,
    equivalence: { lower: null, upper: null, margin: judging.margin, p: null },
  }));
}

/** The interval at 1 - 2 alpha is shown with or without a margin; its p needs one. */
function equivalenceOf(row: PairwiseDifference, judging: Judging): ReportAnswer['equivalence'] {
  const { margin, alpha } = judging;
  if (margin === null) {
    const half = tUpperQuantile(alpha, row.df) * row.standardError;
    return { lower: row.difference - half, upper: row.difference + half, margin: null, p: null };
  }
  const tested = twoOneSidedTests(row, margin, alpha);
  if (isRefusal(tested)) return { lower: null, upper: null, margin, p: null };
  return { lower: tested.lower, upper: tested.upper, margin, p: tested.p };
}
