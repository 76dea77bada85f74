import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { letterGroups } from '../../analyses/letter-groups.ts';
import type { JudgedDifference } from '../../analyses/pairwise-differences.ts';
import type { ReportMean } from './report-model.ts';

/** Decisions of one procedure on every pair, for letters. */
export interface PairDecisions {
  readonly procedure: string;
  readonly rows: readonly JudgedDifference[];
  readonly real: readonly boolean[];
}

/** Means in the order of the treatments, each with its own interval at 1 - alpha, and letters where all pairs were judged. */
export function meanRows(
  means: AdjustedMeans,
  names: readonly string[],
  alpha: number,
  better: 'higher' | 'lower',
  decisions: readonly PairDecisions[],
): ReportMean[] {
  const letters = decisions.map(({ procedure, rows, real }) => ({
    procedure,
    ofLevel: lettersOf(means, rows, real, better),
  }));
  const half = means.error.df > 0 ? tUpperQuantile(alpha / 2, means.error.df) : null;
  return means.means.map((mean, level) => {
    const spread = half === null || mean.standardError === null ? null : half * mean.standardError;
    return {
      treatment: names[level] ?? '',
      n: mean.n,
      mean: mean.rawMean,
      adjustedMean: mean.mean,
      standardError: mean.standardError,
      lower: spread === null ? null : mean.mean - spread,
      upper: spread === null ? null : mean.mean + spread,
      letters: Object.fromEntries(letters.map((own) => [own.procedure, own.ofLevel[level] ?? ''])),
    };
  });
}

function lettersOf(
  means: AdjustedMeans,
  rows: readonly JudgedDifference[],
  real: readonly boolean[],
  better: 'higher' | 'lower',
): readonly string[] {
  const differs = means.means.map(() => means.means.map(() => false));
  const mark = (a: number, b: number) => {
    const row = differs[a];
    if (row !== undefined) row[b] = true;
  };
  rows.forEach((row, i) => {
    if (real[i] !== true) return;
    mark(row.a, row.b);
    mark(row.b, row.a);
  });
  const deviations = means.means.map((mean) => mean.deviation);
  return letterGroups(deviations, differs, better === 'higher' ? 'highest' : 'lowest');
}

/** The standard error that all means share, else null. */
export function commonMeanError(means: AdjustedMeans): number | null {
  const errors = means.means.map((mean) => mean.standardError);
  const first = errors[0] ?? null;
  if (first === null) return null;
  return errors.every((own) => own !== null && Math.abs(own - first) <= 1e-9 * first) ? first : null;
}
