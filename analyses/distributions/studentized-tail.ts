import gammaln from '@stdlib/math-base-special-gammaln';
import { recentlyUsed } from '../recently-used.ts';
import { increasingRoot } from './increasing-root.ts';

/** The distribution of W / s, where W is known for a known standard deviation and s estimates it on df. */
export interface StudentizedDistribution {
  /** P(W / s > q), computed directly. */
  readonly upperTail: (q: number) => number;
  /** The q exceeded with probability p. */
  readonly upperQuantile: (p: number) => number;
}

const COARSEST_STEP = 0.1;
const SHARE_OF_SPREAD = 0.75;
const NEGLIGIBLE_LOG_DENSITY = -110;
const NEGLIGIBLE_SHARE = 1e-18;
const STIRLING_FROM = 15;

/**
 * Studentizes a maximum or a range: P(W > q s) averaged over s, with df s^2 chi-squared on df, independent of W.
 *
 * The integral runs over y = ln(q s) by the trapezoidal rule, whose error falls exponentially for such integrands
 * (the step follows the spread of ln s and the steepness of the tail, so at most exp(-30)). Since y does not depend on q, the tails of W at the
 * nodes are computed once and serve every q: a table of all pairs costs little more than one pair.
 *
 * @param tailOfW - P(W > w) for w > 0, decreasing; may be 0 where below 1e-40
 * @param df - degrees of freedom of s, > 0; Infinity means that the standard deviation is known
 * @param steepness - where the tail of W falls far from zero over a width of 1, at w: then about w; else 0
 */
export function studentize(
  tailOfW: (w: number) => number,
  df: number,
  steepness = 0,
): StudentizedDistribution {
  const upperTail = df === Number.POSITIVE_INFINITY ? tailOfW : averagedOverScale(tailOfW, df, steepness);
  const kept = recentlyUsed<number>(16);
  const quantile = (p: number) => increasingRoot((q) => Math.log(p) - Math.log(upperTail(q)), 1, 4);
  return { upperTail, upperQuantile: (p) => kept(String(p), () => quantile(p)) };
}

function averagedOverScale(
  tailOfW: (w: number) => number,
  df: number,
  steepness: number,
): (q: number) => number {
  const step = stepForSpread(SHARE_OF_SPREAD / Math.sqrt(2 * df + steepness ** 2));
  const tailAtNode = remembered((node) => tailOfW(Math.exp(node * step)));
  const logPeak = logDensityAtOne(df);
  const logDensity = (logScale: number) => logPeak + df * (logScale - Math.expm1(2 * logScale) / 2);
  return (q) => {
    const logQ = Math.log(q);
    const peak = Math.round(logQ / step);
    const logDensityAt = (node: number) => logDensity(node * step - logQ);
    const sum =
      sumWhile(logDensityAt, tailAtNode, logPeak, peak, 1) +
      sumWhile(logDensityAt, tailAtNode, logPeak, peak - 1, -1);
    return Math.min(1, step * sum);
  };
}

/** Steps are halvings of the coarsest, so that like df share their nodes' meaning. */
function stepForSpread(widest: number): number {
  let step = COARSEST_STEP;
  while (step > widest) step /= 2;
  return step;
}

/** Nodes lie on one grid for every q, so they are few. */
function remembered(compute: (node: number) => number): (node: number) => number {
  const known = new Map<number, number>();
  return (node) => {
    const before = known.get(node);
    if (before !== undefined) return before;
    const value = compute(node);
    known.set(node, value);
    return value;
  };
}

/**
 * Sums density times tail from a node outwards, until terms no longer count. Downwards the tail may be zero at first
 * (a large q far outside what W reaches), so there a zero ends nothing; the density's own end does.
 */
function sumWhile(
  logDensityAt: (node: number) => number,
  tailAtNode: (node: number) => number,
  logPeak: number,
  from: number,
  direction: 1 | -1,
): number {
  let sum = 0;
  let largest = 0;
  for (let node = from; ; node += direction) {
    const logDensity = logDensityAt(node);
    if (logDensity < logPeak + NEGLIGIBLE_LOG_DENSITY) return sum;
    const value = Math.exp(logDensity) * tailAtNode(node);
    sum += value;
    largest = Math.max(largest, value);
    const risesNoMore = largest > 0 || direction === 1;
    if (risesNoMore && value <= largest * NEGLIGIBLE_SHARE) return sum;
  }
}

/** Log density of ln s at s = 1: ln 2 + a ln a - a - ln Gamma(a), a = df / 2; for large a by Stirling's series. */
function logDensityAtOne(df: number): number {
  const a = df / 2;
  if (a < STIRLING_FROM) return Math.LN2 + a * Math.log(a) - a - gammaln(a);
  const stirling = (1 / 12 - (1 / 360 - (1 / 1260 - 1 / (1680 * a * a)) / (a * a)) / (a * a)) / a;
  return Math.LN2 + 0.5 * Math.log(a / (2 * Math.PI)) - stirling;
}
