import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { normalDeviates } from '../calibration/random-errors.ts';

export const TREATMENTS = 12;
export const BLOCKS = 6;
const SEED = 12_06_1000;

/** Yields of complete trials, block by block; treatments differ by up to one and a half strip standard deviations. */
export function trialsToAnalyse(count: number): number[][] {
  const normal = normalDeviates(seededGenerator(SEED));
  return Array.from({ length: count }, () =>
    Array.from({ length: BLOCKS }, () => 400 * normal()).flatMap((block) =>
      Array.from({ length: TREATMENTS }, (_, treatment) => 9000 + block + 60 * treatment + 450 * normal()),
    ),
  );
}
