import { recentlyUsed } from '../recently-used.ts';
import { normalUpperTail } from './normal.ts';
import { type StudentizedDistribution, studentize } from './studentized-tail.ts';

/** Whether a treatment may differ from the check in either direction, or only the one direction matters. */
export type Sides = 'two' | 'one';

const STEP = 0.25;
const FARTHEST_Z = 9;
/** Beyond, less than 1e-42 is left. */
const FARTHEST_D = 14;

/**
 * The largest of several differences from one check, each over its own standard error (Dunnett's d).
 *
 * P(max |T_i| > d), or P(max T_i > d) for one side, where T_i and T_j share the check and so correlate by
 * `loadings[i] * loadings[j]`. Upper tail directly, by double integration: about 1e-12 relative. On one side d may be
 * negative.
 *
 * @param loadings - one a treatment, at least one, each in [0, 1): sqrt(n_i / (n_i + n_check)), so sqrt(1/2) throughout
 * for equal replication
 * @param df - degrees of freedom of the error, > 0; Infinity for a known error
 * @param sides - 'two' for |T|, 'one' for T
 * @throws RangeError when an argument lies outside these bounds
 * Source: C. W. Dunnett (1955) J. Am. Stat. Assoc. 50:1096-1121; (1964) Biometrics 20:482-491 for unequal replication.
 */
export function dunnettDistribution(
  loadings: readonly number[],
  df: number,
  sides: Sides,
): StudentizedDistribution {
  if (loadings.length === 0 || loadings.some((loading) => !(loading >= 0 && loading < 1)))
    throw new RangeError(`dunnettDistribution: expected loadings in [0, 1), got [${loadings.join(', ')}]`);
  if (!(df > 0)) throw new RangeError(`dunnettDistribution: df must be positive, got ${df}`);
  return kept(`${loadings.join(' ')} ${df} ${sides}`, () => distributionOf(loadings, df, sides));
}

/** Of as many designs as one sitting sees. */
const kept = recentlyUsed<StudentizedDistribution>(32);

function distributionOf(loadings: readonly number[], df: number, sides: Sides): StudentizedDistribution {
  const alike = gatherAlike(loadings);
  const { upperTail, upperQuantile } = studentize((d) => largestUpperTail(d, alike, sides), df);
  const belowZero = studentize((d) => largestUpperTail(-d, alike, sides), df);
  return {
    upperTail: (d) => {
      if (Number.isNaN(d) || (sides === 'two' && d < 0))
        throw new RangeError(
          `dunnettDistribution: d must be at least 0, or any number on one side, got ${d}`,
        );
      if (d === 0) return upperTailAtZero(alike, sides);
      if (d < 0) return belowZero.upperTail(-d);
      return d === Number.POSITIVE_INFINITY ? 0 : upperTail(d);
    },
    upperQuantile: (p) => {
      const most = upperTailAtZero(alike, sides);
      if (!(p > 0 && p < most))
        throw new RangeError(`dunnettDistribution: p must lie in (0, ${most}), got ${p}`);
      return upperQuantile(p);
    },
  };
}

/** Treatments of one loading, which need computing once. */
interface Alike {
  readonly loading: number;
  readonly count: number;
}

function gatherAlike(loadings: readonly number[]): Alike[] {
  const distinct = [...new Set(loadings)];
  return distinct.map((loading) => ({
    loading,
    count: loadings.filter((other) => other === loading).length,
  }));
}

/**
 * Given the check's own error z, the treatments are independent: treatment i exceeds d with probability
 * P(Z > (d - loading_i z) / sqrt(1 - loading_i^2)). One minus the product of the others is taken by log1p and expm1.
 */
function largestUpperTail(d: number, treatments: readonly Alike[], sides: Sides): number {
  if (d > FARTHEST_D) return 0;
  const step = STEP * Math.min(1, ...treatments.map(({ loading }) => 2 * restOf(loading)));
  const farthest = FARTHEST_Z + Math.abs(d);
  let sum = 0;
  for (let i = -Math.ceil(farthest / step); i * step <= farthest; i++) {
    const z = i * step;
    const logNone = treatments.reduce((log, { loading, count }) => {
      const over = normalUpperTail((d - loading * z) / restOf(loading));
      const under = sides === 'two' ? normalUpperTail((d + loading * z) / restOf(loading)) : 0;
      return log + count * Math.log1p(-Math.min(1, over + under));
    }, 0);
    sum += Math.exp(-0.5 * z * z) * -Math.expm1(logNone);
  }
  return (step * sum) / Math.sqrt(2 * Math.PI);
}

/** What is left of a treatment's variance when the check's part is given. */
function restOf(loading: number): number {
  return Math.sqrt((1 - loading) * (1 + loading));
}

/** Two-sided everything exceeds 0; one-sided the largest may lie below. */
function upperTailAtZero(treatments: readonly Alike[], sides: Sides): number {
  return sides === 'two' ? 1 : largestUpperTail(0, treatments, sides);
}
