/**
 * Uniform and normal draws from a seed: a 32-bit Weyl sequence stirred by the finaliser of MurmurHash3.
 *
 * Sources: G. L. Steele, D. Lea, C. H. Flood (2014) OOPSLA, 453-472 (a counter by a fixed odd step, stirred);
 * A. Appleby, MurmurHash3 `fmix32` (public domain); normal draws: G. E. P. Box, M. E. Muller (1958) Ann. Math.
 * Statist. 29:610-611.
 */
export interface SeededRandom {
  /** In [0, 1), in steps of 2^-32. */
  uniform(): number;
  /** Mean 0, standard deviation 1. */
  normal(): number;
  /** True once in `1 / share` draws on average. */
  chance(share: number): boolean;
  between(low: number, high: number): number;
}

export function seededRandom(seed: number): SeededRandom {
  let counter = seed >>> 0;
  const uniform = () => {
    counter = (counter + 0x9e3779b9) >>> 0;
    let word = counter;
    word = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
    return ((word ^ (word >>> 16)) >>> 0) / 2 ** 32;
  };
  const normal = () => {
    const radius = Math.sqrt(-2 * Math.log(uniform() + 2 ** -33));
    return radius * Math.cos(2 * Math.PI * uniform());
  };
  return {
    uniform,
    normal,
    chance: (share) => uniform() < share,
    between: (low, high) => low + (high - low) * uniform(),
  };
}
