import type { AdjustedMeans } from './adjusted-means.ts';
import { alphaRefusal } from './alpha.ts';
import { dunnettDistribution, type Sides } from './distributions/dunnett-distribution.ts';
import { MOST_COMPARISONS, multivariateTMaximum } from './distributions/multivariate-t-maximum.ts';
import type { StudentizedDistribution } from './distributions/studentized-tail.ts';
import { commonStandardError } from './fisher-lsd.ts';
import {
  type JudgedDifference,
  judgedRow,
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
  /** False beyond 12 comparisons whose correlations are not products: then they are bounded from below. */
  readonly exact: boolean;
  /** The absolute error that p may carry from integration; a bound's own distance from the truth is not in it. */
  readonly integrationError: number;
  /** Treatment minus check, levels in their order. Simultaneous intervals; one-sided ones have one end, the other is null. */
  readonly comparisons: readonly JudgedDifference[];
}

/** Correlations that differ by no more are rounding. */
const SAME_CORRELATION = 1e-9;
/**
 * A comparison whose own part is smaller than what this leaves makes the integral over the check's error need ever finer
 * steps; the multivariate t gives the same figures there at once.
 */
const NEARLY_SHARED = 0.98;
/** Of the product form: far above what was found against 25-digit values. */
const ERROR_OF_PRODUCTS = 1e-10;

/**
 * Dunnett's procedure: every treatment against one check, the chance of at least one false difference being alpha.
 *
 * Definition: single-step, on the joint distribution of the differences with their true correlations, also where strips are
 * lost or a covariate enters. Beyond 12 comparisons whose correlations are not products all of them are set to the smallest
 * one, which can only make p larger on one side (Slepian's inequality) and does so in practice on both.
 *
 * @param means - of {@link AdjustedMeans}
 * @param check - its level
 * @param alpha - of the family, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * @returns the comparisons, or a refusal of {@link pairwiseDifferences}
 * Sources: C. W. Dunnett (1955) J. Am. Stat. Assoc. 50:1096-1121 and (1964) Biometrics 20:482-491; D. Slepian (1962)
 * Bell Syst. Tech. J. 41:463-501; the multivariate t as in `distributions/multivariate-t-maximum.ts`.
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
  const sides: Sides = alternative === 'different' ? 'two' : 'one';
  const { distribution, exact, integrationError } = jointDistribution(
    correlations(means, differences),
    means.error.df,
    sides,
  );
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
    integrationError,
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
  return judgedRow(
    row,
    distribution.upperTail(tested),
    alternative === 'less' ? null : row.difference - half,
    alternative === 'greater' ? null : row.difference + half,
  );
}

/** Of the differences with the check, from the covariance of the means. */
function correlations(means: AdjustedMeans, rows: readonly PairwiseDifference[]): number[][] {
  const v = means.unitCovariance;
  const covariance = (i: PairwiseDifference, j: PairwiseDifference) =>
    v[i.a]![j.a]! - v[i.a]![i.b]! - v[i.b]![j.a]! + v[i.b]![i.b]!;
  const between = (i: PairwiseDifference, j: PairwiseDifference) =>
    (covariance(i, j) + covariance(j, i)) / (2 * Math.sqrt(covariance(i, i) * covariance(j, j)));
  return rows.map((i) => rows.map((j) => (i === j ? 1 : between(i, j))));
}

interface JointDistribution {
  readonly distribution: StudentizedDistribution;
  readonly exact: boolean;
  readonly integrationError: number;
}

/** Products of loadings where they are, else the multivariate t, else the bound. */
function jointDistribution(
  correlation: readonly (readonly number[])[],
  df: number,
  sides: Sides,
): JointDistribution {
  const loadings = productLoadings(correlation);
  if (loadings === null && correlation.length <= MOST_COMPARISONS) {
    const distribution = multivariateTMaximum(correlation, df, sides);
    return { distribution, exact: true, integrationError: distribution.error };
  }
  const distribution = dunnettDistribution(loadings ?? equalLoadings(correlation), df, sides);
  return { distribution, exact: loadings !== null, integrationError: ERROR_OF_PRODUCTS };
}

/** Loadings whose products are the correlations; null where there are none, or where the multivariate t serves better. */
function productLoadings(correlation: readonly (readonly number[])[]): number[] | null {
  const k = correlation.length;
  if (k === 1) return [0];
  if (k === 2) return correlation[0]![1]! >= 0 ? equalLoadings(correlation) : null;
  const loadings = correlation.map((row, i) => {
    const [j, m] = [0, 1, 2].filter((other) => other !== i) as [number, number];
    return Math.sqrt((row[j]! * row[m]!) / correlation[j]![m]!);
  });
  const isProduct = correlation.every((row, i) =>
    row.every((rho, j) => i === j || Math.abs(loadings[i]! * loadings[j]! - rho) < SAME_CORRELATION),
  );
  const mostShared = k <= MOST_COMPARISONS ? NEARLY_SHARED : 1;
  const sound = isProduct && loadings.every((loading) => loading >= 0 && loading ** 2 < mostShared);
  return sound ? gathered(loadings) : null;
}

/** Loadings that give every pair the smallest correlation there is. */
function equalLoadings(correlation: readonly (readonly number[])[]): number[] {
  const others = correlation.flatMap((row, i) => row.filter((_, j) => i !== j));
  const smallest = Math.max(0, Math.min(1 - SAME_CORRELATION, ...others));
  return correlation.map(() => Math.sqrt(smallest));
}

/** Loadings alike but for rounding become one number, which the distribution then computes once. */
function gathered(loadings: readonly number[]): number[] {
  return loadings.map((loading) => loadings.find((other) => Math.abs(other - loading) < SAME_CORRELATION)!);
}
