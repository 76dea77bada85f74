import type { CommonFactors } from './common-factors.ts';
import type { Sides } from './dunnett-distribution.ts';
import { normalUpperTail } from './normal.ts';

/** Steps of this share of the width leave at most exp(-2 pi^2 / 0.85^2) = 1e-12 of the integrand, by the coarsest estimate. */
const SHARE_OF_WIDTH = 0.85;
/** Beyond this distance from all that matters the normal density is below 1e-11 of its peak. */
const FARTHEST = 7;
/** Beyond, less than 1e-42 is left. */
const FARTHEST_W = 14;
/** Loadings whose squares add up to less change nothing. */
const NEGLIGIBLE = 1e-24;

/** One factor's nodes: whole multiples of the step, from -far to far. */
interface Axis {
  readonly step: number;
  readonly far: number;
  readonly loadings: readonly number[];
}

/**
 * P(max |Z_i| > w), or P(max Z_i > w) for one side, for standard normals Z_i that share one or two common factors.
 *
 * Given the factors the variables are independent, so the chance that any exceeds is summed over the plane of the two
 * factors by the trapezoidal rule, whose error falls exponentially for such integrands: about 1e-12 of the tail.
 *
 * @param factors - of {@link CommonFactors}
 * @param w - at least 0; on one side any number
 */
export function factoredMaximumTail(factors: CommonFactors, w: number, sides: Sides): number {
  if (w > FARTHEST_W) return 0;
  const [first, second] = [axisOf(factors, 0, w), axisOf(factors, 1, w)];
  const rest = factors.ownVariance.map(Math.sqrt);
  let sum = 0;
  for (let i = sides === 'two' ? 0 : -first.far; i <= first.far; i++) {
    // Turning both factors round turns every variable round, which two sides do not tell apart.
    const times = sides === 'two' && i > 0 ? 2 : 1;
    sum += times * alongSecond(i * first.step, first, second, rest, w, sides);
  }
  return (first.step * second.step * sum) / (2 * Math.PI);
}

function alongSecond(
  z: number,
  first: Axis,
  second: Axis,
  rest: readonly number[],
  w: number,
  sides: Sides,
): number {
  const shift = first.loadings.map((loading) => loading * z);
  let sum = 0;
  for (let j = -second.far; j <= second.far; j++) {
    const y = j * second.step;
    const square = z * z + y * y;
    sum += Math.exp(-0.5 * square) * chanceOfAny(shift, second.loadings, y, rest, w, sides);
  }
  return sum;
}

function chanceOfAny(
  shift: readonly number[],
  loadings: readonly number[],
  y: number,
  rest: readonly number[],
  w: number,
  sides: Sides,
): number {
  let any = 0;
  for (let i = 0; i < shift.length; i++) {
    if (any === 1) return 1;
    const centre = shift[i]! + loadings[i]! * y;
    const over = normalUpperTail((w - centre) / rest[i]!);
    const either = sides === 'two' ? over + normalUpperTail((w + centre) / rest[i]!) : over;
    any += either * (1 - any);
  }
  return Math.min(1, any);
}

/** The integrand is a normal density times one rise a variable: the steeper and the more, the finer the step. */
function axisOf(factors: CommonFactors, which: 0 | 1, w: number): Axis {
  const loadings = factors.loadings.map((row) => row[which]);
  const steepness = loadings.reduce((sum, loading, i) => sum + loading ** 2 / factors.ownVariance[i]!, 0);
  // A factor that nothing loads on: its one node at 0 stands for the whole density.
  if (steepness < NEGLIGIBLE) return { step: Math.sqrt(2 * Math.PI), far: 0, loadings };
  const step = SHARE_OF_WIDTH / Math.sqrt(1 + steepness);
  const reach = FARTHEST + Math.abs(w) * Math.max(...loadings.map(Math.abs));
  return { step, far: Math.ceil(reach / step), loadings };
}
