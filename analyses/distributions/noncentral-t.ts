import { chiSquaredUpperTail } from './chi-squared.ts';
import { normalUpperTail } from './normal.ts';
import { studentize } from './studentized-tail.ts';

/**
 * P(T > t) for the noncentral t: a normal with mean `noncentrality` and standard deviation 1 over an independent estimate
 * of 1 on df.
 *
 * Averages the normal's tail over the estimate by quadrature, upper tail directly: relative error about 1e-12.
 *
 * @param t - any number, infinities included
 * @param df - degrees of freedom, > 0; Infinity for a known standard deviation
 * @param noncentrality - any finite number
 * @throws RangeError when an argument lies outside these bounds
 * Source: definition; N. L. Johnson & B. L. Welch (1940) Biometrika 31:362-389.
 */
export function noncentralTUpperTail(t: number, df: number, noncentrality: number): number {
  if (Number.isNaN(t)) throw new RangeError('noncentralTUpperTail: t must be a number, got NaN');
  if (!(df > 0)) throw new RangeError(`noncentralTUpperTail: df must be positive, got ${df}`);
  if (!Number.isFinite(noncentrality))
    throw new RangeError(`noncentralTUpperTail: noncentrality must be finite, got ${noncentrality}`);
  if (t === 0) return normalUpperTail(-noncentrality);
  if (!Number.isFinite(t)) return t > 0 ? 0 : 1;
  const settled = settledFarOut(t, df, noncentrality);
  if (settled !== null) return settled;
  const sign = Math.sign(t);
  const tailOfW = (w: number) => normalUpperTail(sign * w - noncentrality);
  return studentize(tailOfW, df, Math.abs(noncentrality)).upperTail(Math.abs(t));
}

/** Below this a tail is lost beside 1. */
const LOST_BESIDE_ONE = 1e-18;

/**
 * A shift so large that nothing is left to average: the normal stays within half of it and s does not stretch t over the other
 * half, but for a chance that is lost beside 1 (or that no number holds); null: it is not so large. The nodes of the
 * quadrature would be as many as the shift is large.
 */
function settledFarOut(t: number, df: number, noncentrality: number): 0 | 1 | null {
  const size = Math.abs(noncentrality);
  if (t > 0 !== noncentrality > 0) {
    const beyond = normalUpperTail(size);
    if (noncentrality > 0) return beyond < LOST_BESIDE_ONE ? 1 : null;
    return beyond === 0 ? 0 : null;
  }
  if (!Number.isFinite(df)) return null;
  const half = size / 2;
  const stretch = half / Math.abs(t);
  const chance = normalUpperTail(half) + (stretch > 1 ? chiSquaredUpperTail(df * stretch ** 2, df) : 1);
  if (noncentrality > 0) return chance < LOST_BESIDE_ONE ? 1 : null;
  return chance === 0 ? 0 : null;
}
