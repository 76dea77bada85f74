import type { RandomNumbers } from './seeded-generator.ts';

/**
 * A seeded generator for the many thousand draws of one report: 53 random bits a number from two 32-bit steps, some twenty
 * times as fast as `seededGenerator`, whose 64-bit arithmetic is exact but slow.
 *
 * Definition: sfc32, state filled from the seed by twelve steps. Passes PractRand and BigCrush, by its author's account.
 * Source: C. Doty-Humphrey (2010) PractRand, generator "sfc".
 *
 * @param seed - a whole number from 0 to 2^53
 * @throws RangeError for any other seed
 */
export function quickGenerator(seed: number): RandomNumbers {
  if (!Number.isSafeInteger(seed) || seed < 0)
    throw new RangeError(`quickGenerator: expected a whole number from 0 to 2^53, got ${seed}`);
  let a = seed | 0;
  let b = Math.floor(seed / 2 ** 32) | 0;
  let c = 0;
  let counter = 1;
  const next = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return sum >>> 0;
  };
  for (let step = 0; step < 12; step++) next();
  return () => ((next() >>> 5) * 2 ** 26 + (next() >>> 6)) / 2 ** 53;
}
