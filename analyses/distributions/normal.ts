import erfc from '@stdlib/math-base-special-erfc';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';

/**
 * P(Z > z) for a standard normal Z, computed directly from the complementary error function.
 *
 * @param z - any number, infinities included
 * @throws RangeError when z is NaN
 */
export function normalUpperTail(z: number): number {
  if (Number.isNaN(z)) throw new RangeError('normalUpperTail: z must be a number, got NaN');
  return 0.5 * erfc(z * Math.SQRT1_2);
}

/**
 * The z that a standard normal exceeds with probability p.
 *
 * @param p - upper tail, 0 < p < 1
 * @throws RangeError when p lies outside (0, 1)
 */
export function normalUpperQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`normalUpperQuantile: p must lie in (0, 1), got ${p}`);
  return -normalQuantile(p, 0, 1);
}
