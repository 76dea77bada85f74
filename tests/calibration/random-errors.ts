import type { RandomNumbers } from '../../analyses/seeded-generator.ts';

/** Independent normal numbers of mean 0 and standard deviation 1 (Box & Muller 1958), both of each pair used. */
export function normalDeviates(random: RandomNumbers): () => number {
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - random()));
    const angle = 2 * Math.PI * random();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** Student's t on 3 df, scaled to a standard deviation of 1: normal over the root of chi-squared on 3. */
export function heavyTailed(normal: () => number): number {
  const [own, a, b, c] = [normal(), normal(), normal(), normal()];
  return own / Math.sqrt(a * a + b * b + c * c);
}
