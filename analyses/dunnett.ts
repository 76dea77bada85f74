import type { AdjustedMeans } from './adjusted-means.ts';
import { alphaRefusal } from './alpha.ts';
import { dunnettDistribution, type Sides } from './distributions/dunnett-distribution.ts';
import type { StudentizedDistribution } from './distributions/studentized-tail.ts';
import { commonStandardError } from './fisher-lsd.ts';
import {
  type JudgedDifference,
  type PairwiseDifference,
  pairsAgainst,
  pairwiseDifferences,
} from './pairwise-differences.ts';
import type { Refusal } from './refusal.ts';

/** What a treatment may be against the check: different (two-sided), greater, or less. */
export type Alternative = 'different' | 'greater' | 'less';

export interface Dunnett {
  readonly alpha: number;
  readonly df: number;
  readonly check: number;
  readonly alternative: Alternative;
  /** The value each |t| (or t) is held against at alpha. */
  readonly criticalValue: number;
  /** criticalValue * standard error; null where the standard error differs from pair to pair. */
  readonly leastDifference: number | null;
  /** False where the correlations are not products, as with lost plots in blocks: then they are bounded from below. */
  readonly exact: boolean;
  /** Treatment minus check, levels in their order. Simultaneous intervals; one-sided ones have one end, the other is null. */
  readonly comparisons: readonly JudgedDifference[];
}

/** Correlations that differ by no more are rounding. */
const SAME_CORRELATION = 1e-9;

/**
 * Dunnett's procedure: every treatment against one check, the chance of at least one false difference being alpha.
 *
 * Definition: single-step, with the exact joint distribution where the differences' correlations are products (equal or
 * unequal replication in an orthogonal trial). Elsewhere all correlations are set to the smallest one, which can only
 * make p larger on one side (Slepian's inequality) and does so in practice on both.
 *
 * @param means - of {@link AdjustedMeans}
 * @param check - its level
 * @param alpha - of the family, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * @returns the comparisons, or a refusal of {@link pairwiseDifferences}
 * Sources: C. W. Dunnett (1955) J. Am. Stat. Assoc. 50:1096-1121 and (1964) Biometrics 20:482-491; D. Slepian (1962)
 * Bell Syst. Tech. J. 41:463-501.
 */
export function dunnett(
  means: AdjustedMeans,
  check: number,
  alpha: number,
  alternative: Alternative = 'different',
): Dunnett | Refusal {
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const differences = pairwiseDifferences(means, pairsAgainst(check, means.means.length));
  if ('refused' in differences) return differences;
  const { loadings, exact } = loadingsOf(correlations(means, differences));
  const sides: Sides = alternative === 'different' ? 'two' : 'one';
  const distribution = dunnettDistribution(loadings, means.error.df, sides);
  const criticalValue = distribution.upperQuantile(alpha);
  const common = commonStandardError(differences);
  return {
    alpha,
    df: means.error.df,
    check,
    alternative,
    criticalValue,
    leastDifference: common === null ? null : criticalValue * common,
    exact,
    comparisons: differences.map((row) => judged(row, distribution, criticalValue, alternative)),
  };
}

function judged(
  row: PairwiseDifference,
  distribution: StudentizedDistribution,
  criticalValue: number,
  alternative: Alternative,
): JudgedDifference {
  const half = criticalValue * row.standardError;
  const tested = alternative === 'different' ? Math.abs(row.t) : alternative === 'greater' ? row.t : -row.t;
  return {
    ...row,
    p: distribution.upperTail(tested),
    lower: alternative === 'less' ? null : row.difference - half,
    upper: alternative === 'greater' ? null : row.difference + half,
  };
}

/** Of the differences with the check, from the covariance of the means. */
function correlations(means: AdjustedMeans, rows: readonly PairwiseDifference[]): number[][] {
  const v = means.unitCovariance;
  const covariance = (i: PairwiseDifference, j: PairwiseDifference) =>
    v[i.a]![j.a]! - v[i.a]![i.b]! - v[i.b]![j.a]! + v[i.b]![i.b]!;
  return rows.map((i) => rows.map((j) => covariance(i, j) / Math.sqrt(covariance(i, i) * covariance(j, j))));
}

/** Loadings whose products are the correlations; where there are none, equal ones that give the smallest correlation. */
function loadingsOf(correlation: readonly (readonly number[])[]): { loadings: number[]; exact: boolean } {
  const k = correlation.length;
  const others = correlation.flatMap((row, i) => row.filter((_, j) => i !== j));
  const smallest = Math.max(0, Math.min(1 - SAME_CORRELATION, ...others));
  const equal = new Array<number>(k).fill(k === 1 ? 0 : Math.sqrt(smallest));
  if (k <= 2) return { loadings: equal, exact: true };
  const loadings = correlation.map((row, i) => {
    const [j, m] = [0, 1, 2].filter((other) => other !== i) as [number, number];
    return Math.sqrt((row[j]! * row[m]!) / correlation[j]![m]!);
  });
  const isProduct = correlation.every((row, i) =>
    row.every((rho, j) => i === j || Math.abs(loadings[i]! * loadings[j]! - rho) < SAME_CORRELATION),
  );
  const sound = isProduct && loadings.every((loading) => loading >= 0 && loading < 1);
  return sound ? { loadings: gathered(loadings), exact: true } : { loadings: equal, exact: false };
}

/** Loadings alike but for rounding become one number, which the distribution then computes once. */
function gathered(loadings: readonly number[]): number[] {
  return loadings.map((loading) => loadings.find((other) => Math.abs(other - loading) < SAME_CORRELATION)!);
}
