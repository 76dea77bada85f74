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
  const sign = Math.sign(t);
  const tailOfW = (w: number) => normalUpperTail(sign * w - noncentrality);
  return studentize(tailOfW, df, Math.abs(noncentrality)).upperTail(Math.abs(t));
}
