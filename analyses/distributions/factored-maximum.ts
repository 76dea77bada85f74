import type { CommonFactors } from './common-factors.ts';
import type { Sides } from './dunnett-distribution.ts';
import { normalUpperTail } from './normal.ts';

/** Steps of this share of the width leave at most exp(-2 pi^2 / 0.85^2) = 1e-12 of the integrand, by the coarsest estimate. */
const SHARE_OF_WIDTH = 0.85;
/** Beyond this distance from all that matters the normal density is below 1e-11 of its peak. */
const FARTHEST = 7;
/** Beyond, less than 1e-42 is left. */
const FARTHEST_W = 14;
/** Chances this near to 1 are 1: what is left adds less than rounding. */
const CERTAIN = 1 - 1e-15;
/** Loadings whose squares add up to less change nothing. */
const NEGLIGIBLE = 1e-24;
/** Loadings that differ by no more are rounding: such variables are computed once. */
const ALIKE = 1e-12;

/** Variables of one pair of loadings, which given the factors exceed with one and the same chance. */
interface Alike {
  readonly loadings: readonly [number, number];
  /** Standard deviation of what is their own. */
  readonly rest: number;
  readonly count: number;
}

/** One factor's nodes: whole multiples of the step, from -far to far. */
interface Axis {
  readonly step: number;
  readonly far: number;
}

/**
 * P(max |Z_i| > w), or P(max Z_i > w) for one side, for standard normals Z_i that share one or two common factors.
 *
 * Given the factors the variables are independent, so the chance that any exceeds is summed over the plane of the two
 * factors by the trapezoidal rule, whose error falls exponentially for such integrands: about 1e-11 of the tail.
 *
 * @param factors - of {@link CommonFactors}
 * @returns the tail for w of at least 0; on one side for any number
 */
export function factoredMaximum(factors: CommonFactors, sides: Sides): (w: number) => number {
  const variables = gatherAlike(factors);
  return (w) => (w > FARTHEST_W ? 0 : maximumTail(variables, w, sides));
}

function maximumTail(variables: readonly Alike[], w: number, sides: Sides): number {
  const [first, second] = [axisOf(variables, 0, w), axisOf(variables, 1, w)];
  let sum = 0;
  for (let i = sides === 'two' ? 0 : -first.far; i <= first.far; i++) {
    // Turning both factors round turns every variable round, which two sides do not tell apart.
    const times = sides === 'two' && i > 0 ? 2 : 1;
    for (let j = -second.far; j <= second.far; j++) {
      const [z, y] = [i * first.step, j * second.step];
      sum += times * Math.exp(-0.5 * (z * z + y * y)) * chanceOfAny(variables, z, y, w, sides);
    }
  }
  return (first.step * second.step * sum) / (2 * Math.PI);
}

/** Given the factors: that at least one exceeds; added up so that small chances keep their digits. */
function chanceOfAny(variables: readonly Alike[], z: number, y: number, w: number, sides: Sides): number {
  let any = 0;
  for (const { loadings, rest, count } of variables) {
    const centre = loadings[0] * z + loadings[1] * y;
    const over = normalUpperTail((w - centre) / rest);
    const either = sides === 'two' ? over + normalUpperTail((w + centre) / rest) : over;
    for (let i = 0; i < count; i++) any += either * (1 - any);
    if (any > CERTAIN) return 1;
  }
  return any;
}

/** The integrand is a normal density times one rise a variable: the steeper and the more, the finer the step. */
function axisOf(variables: readonly Alike[], which: 0 | 1, w: number): Axis {
  const steepness = variables.reduce(
    (sum, { loadings, rest, count }) => sum + count * (loadings[which] / rest) ** 2,
    0,
  );
  // A factor that nothing loads on: its one node at 0 stands for the whole density.
  if (steepness < NEGLIGIBLE) return { step: Math.sqrt(2 * Math.PI), far: 0 };
  const step = SHARE_OF_WIDTH / Math.sqrt(1 + steepness);
  const largest = Math.max(...variables.map(({ loadings }) => Math.abs(loadings[which])));
  return { step, far: Math.ceil((FARTHEST + Math.abs(w) * largest) / step) };
}

function gatherAlike({ loadings, ownVariance }: CommonFactors): Alike[] {
  const gathered: Alike[] = [];
  loadings.forEach((own, i) => {
    const at = gathered.findIndex(({ loadings: [a, b] }) => Math.hypot(a - own[0], b - own[1]) <= ALIKE);
    if (at < 0) gathered.push({ loadings: own, rest: Math.sqrt(ownVariance[i]!), count: 1 });
    else gathered[at] = { ...gathered[at]!, count: gathered[at]!.count + 1 };
  });
  return gathered;
}
