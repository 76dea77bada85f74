import erfc from '@stdlib/math-base-special-erfc';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { increasingRoot } from './increasing-root.ts';

/** The library's quantile loses digits as p falls (5e-10 of p at 1e-8); refined on our own tail from this near. */
const NEAR = 1e-7;

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
  const near = -normalQuantile(p, 0, 1);
  if (p > 0.25) return near;
  return increasingRoot(
    (z) => Math.log(p) - Math.log(normalUpperTail(z)),
    near * (1 - NEAR),
    near * (1 + NEAR),
  );
}
