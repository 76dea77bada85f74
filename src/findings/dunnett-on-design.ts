import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { multivariateTMaximum } from '../../analyses/distributions/multivariate-t-maximum.ts';
import { dunnett } from '../../analyses/dunnett.ts';
import { withInterval } from '../../analyses/fisher-lsd.ts';
import {
  type JudgedDifference,
  type PairwiseDifference,
  pairsAgainst,
  pairwiseDifferences,
} from '../../analyses/pairwise-differences.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';

/** Above this share one comparison is all but a function of what the others share, and the usual integral gets too fine. */
const NEARLY_SHARED = 0.98;

/**
 * Dunnett's comparisons, each treatment against the check. Where strips are lost in just the way that one comparison
 * carries nearly all that the others share (three treatments in a chain of blocks), the integral over the check's own
 * error needs ever finer steps; the multivariate t on the same correlations gives the same figures there at once.
 */
export function dunnettOnDesign(
  means: AdjustedMeans,
  check: number,
  alpha: number,
): { readonly comparisons: readonly JudgedDifference[] } | Refusal {
  const differences = pairwiseDifferences(means, pairsAgainst(check, means.means.length));
  if (isRefusal(differences)) return differences;
  const correlation = correlationsOf(means, differences);
  if (!isNearlyShared(correlation)) return dunnett(means, check, alpha);
  const { upperTail, upperQuantile } = multivariateTMaximum(correlation, means.error.df, 'two');
  const critical = upperQuantile(alpha);
  return { comparisons: differences.map((row) => withInterval(row, upperTail(Math.abs(row.t)), critical)) };
}

function correlationsOf(means: AdjustedMeans, rows: readonly PairwiseDifference[]): number[][] {
  const v = means.unitCovariance;
  const at = (i: number, j: number) => v[i]?.[j] ?? 0;
  const covariance = (x: PairwiseDifference, y: PairwiseDifference) =>
    (at(x.a, y.a) + at(y.a, x.a)) / 2 - (at(x.a, x.b) + at(y.a, y.b)) + at(x.b, y.b);
  return rows.map((x, i) =>
    rows.map((y, j) => (i === j ? 1 : covariance(x, y) / Math.sqrt(covariance(x, x) * covariance(y, y)))),
  );
}

/** Three comparisons alone can have loadings near 1: of more, all but product matrices go to the multivariate t anyway. */
function isNearlyShared(correlation: readonly (readonly number[])[]): boolean {
  if (correlation.length !== 3) return false;
  return [0, 1, 2].some((i) => {
    const [j, k] = [(i + 1) % 3, (i + 2) % 3];
    const [ij, ik, jk] = [correlation[i]?.[j] ?? 0, correlation[i]?.[k] ?? 0, correlation[j]?.[k] ?? 0];
    return ij * ik >= NEARLY_SHARED * jk;
  });
}
