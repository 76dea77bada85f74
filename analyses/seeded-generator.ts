/** Gives numbers in [0, 1), the same ones for the same seed. */
export type RandomNumbers = () => number;

/**
 * A seeded generator of uniform numbers with 53 random bits each (splitmix64; passes BigCrush).
 *
 * Source: G. L. Steele, D. Lea & C. H. Flood (2014) OOPSLA, 453-472.
 *
 * @param seed - a whole number
 * @throws RangeError when the seed is not a safe whole number
 */
export function seededGenerator(seed: number): RandomNumbers {
  if (!Number.isSafeInteger(seed))
    throw new RangeError(`seededGenerator: expected a whole number, got ${seed}`);
  let state = BigInt.asUintN(64, BigInt(seed));
  return () => {
    state = BigInt.asUintN(64, state + 0x9e3779b97f4a7c15n);
    let z = state;
    z = BigInt.asUintN(64, (z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n);
    z = BigInt.asUintN(64, (z ^ (z >> 27n)) * 0x94d049bb133111ebn);
    return Number((z ^ (z >> 31n)) >> 11n) / 2 ** 53;
  };
}

/** A random order of the numbers below `count`, each order as likely as any other (Fisher and Yates). */
export function shuffled(count: number, random: RandomNumbers): number[] {
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
