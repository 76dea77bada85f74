import { recentlyUsed } from '../recently-used.ts';
import { normalUpperTail } from './normal.ts';
import { type StudentizedDistribution, studentize } from './studentized-tail.ts';

const STEP = 0.25;
const LOWEST_Z = -9;
/** Beyond, less than 1e-42 is left. */
const FARTHEST_RANGE = 20;
const DENSITY_AT_ZERO = 1 / Math.sqrt(2 * Math.PI);

/**
 * P(Q > q) for the studentized range: the largest minus the smallest of `groups` independent normal means, over the
 * standard error of one mean estimated on df degrees of freedom (Tukey's q; for two groups q = sqrt(2) |t|).
 *
 * Upper tail directly, by double integration: relative error about 1e-12 for tails down to 1e-12.
 * Source of the integral: H. L. Harter (1960) Ann. Math. Statist. 31:1122-1147.
 *
 * @param q - at least 0
 * @param groups - number of means, whole, at least 2
 * @param df - degrees of freedom, > 0; Infinity for a known standard error
 * @throws RangeError when an argument lies outside these bounds
 * @example studentizedRangeUpperTail(3.877676, 3, 10) // 0.05
 */
export function studentizedRangeUpperTail(q: number, groups: number, df: number): number {
  return studentizedRange(groups, df).upperTail(q);
}

/**
 * The q that the studentized range exceeds with probability p; arguments as in {@link studentizedRangeUpperTail}.
 *
 * @param p - upper tail, 0 < p < 1
 */
export function studentizedRangeUpperQuantile(p: number, groups: number, df: number): number {
  return studentizedRange(groups, df).upperQuantile(p);
}

/** Both of the above for one number of groups and df: the choice for a table of many pairs. */
export function studentizedRange(groups: number, df: number): StudentizedDistribution {
  if (!(Number.isInteger(groups) && groups >= 2))
    throw new RangeError(`studentizedRange: groups must be a whole number of at least 2, got ${groups}`);
  if (!(df > 0)) throw new RangeError(`studentizedRange: df must be positive, got ${df}`);
  return kept(`${groups} ${df}`, () => distributionOf(groups, df));
}

/** Of as many designs as one sitting sees. */
const kept = recentlyUsed<StudentizedDistribution>(32);

function distributionOf(groups: number, df: number): StudentizedDistribution {
  const { upperTail, upperQuantile } = studentize((w) => rangeUpperTail(w, groups), df);
  return {
    upperTail: (q) => {
      if (!(q >= 0)) throw new RangeError(`studentizedRange: q must be at least 0, got ${q}`);
      if (q === 0) return 1;
      return q === Number.POSITIVE_INFINITY ? 0 : upperTail(q);
    },
    upperQuantile: (p) => {
      if (!(p > 0 && p < 1)) throw new RangeError(`studentizedRange: p must lie in (0, 1), got ${p}`);
      return upperQuantile(p);
    },
  };
}

/**
 * P(range of `groups` standard normals > w). With z the largest value and n = groups - 1 others below it, the range
 * exceeds w unless all of them lie within w: integral of groups phi(z) (below^n - (below - far)^n), where
 * below = P(Z < z), far = P(Z < z - w). The bracket is taken by expm1 and log1p, so nothing cancels.
 */
function rangeUpperTail(w: number, groups: number): number {
  const others = groups - 1;
  if (w > FARTHEST_RANGE) return 0;
  if (w ** others < Number.EPSILON / 1000) return 1;
  const highestZ = 9 + w;
  let sum = 0;
  for (let z = LOWEST_Z; z < highestZ; z += STEP) {
    const below = normalUpperTail(-z);
    const far = normalUpperTail(w - z);
    const someFar = -Math.expm1(others * Math.log1p(-far / below));
    sum += Math.exp(-0.5 * z * z) * below ** others * someFar;
  }
  return groups * DENSITY_AT_ZERO * STEP * sum;
}
