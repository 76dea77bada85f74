import type { SeededRandom } from './seeded-random.ts';

/**
 * A field of strips side by side, running north from northM = 0, the first strip's west edge at eastM = 0. Each
 * strip has a known yield at standard moisture and a known moisture; the ground varies about them along the strip
 * in patches, and the patches of a strip average to nothing, so the known yield is that of the whole strip.
 */
export interface FieldSpecification {
  readonly stripWidthM: number;
  readonly stripLengthM: number;
  /** At standard moisture, one a strip from west to east. */
  readonly yieldKgPerHa: readonly number[];
  readonly moisturePercent: readonly number[];
  readonly standardMoisturePercent: number;
  /** Standard deviation of the patches, as a share of the strip's yield. */
  readonly patchShare: number;
}

export interface SimulatedField {
  readonly specification: FieldSpecification;
  readonly widthM: number;
  /** Wet yield in kg/m² and moisture share at a place; 0 outside the strips. */
  wetYieldKgPerM2(strip: number, northM: number): number;
  moistureShare(strip: number): number;
}

const PATCH_M = 5;
const NEIGHBOUR_CORRELATION = 0.8;

export function simulateField(specification: FieldSpecification, random: SeededRandom): SimulatedField {
  const { stripWidthM, stripLengthM, yieldKgPerHa, moisturePercent, standardMoisturePercent } = specification;
  const patches = yieldKgPerHa.map(() => patchesOf(specification, random));
  return {
    specification,
    widthM: stripWidthM * yieldKgPerHa.length,
    moistureShare: (strip) => moisturePercent[strip]! / 100,
    wetYieldKgPerM2: (strip, northM) => {
      if (northM < 0 || northM >= stripLengthM) return 0;
      const dry = (yieldKgPerHa[strip]! / 10_000) * (1 - standardMoisturePercent / 100);
      const patch = patches[strip]![Math.floor(northM / PATCH_M)] ?? 0;
      return (dry / (1 - moisturePercent[strip]! / 100)) * (1 + patch);
    },
  };
}

/** A first-order chain of patches, centred so that they leave the strip's yield as it is. */
function patchesOf({ stripLengthM, patchShare }: FieldSpecification, random: SeededRandom): number[] {
  const count = Math.ceil(stripLengthM / PATCH_M);
  const innovation = Math.sqrt(1 - NEIGHBOUR_CORRELATION ** 2);
  let level = random.normal();
  const chain = Array.from({ length: count }, () => {
    level = NEIGHBOUR_CORRELATION * level + innovation * random.normal();
    return level;
  });
  const middle = chain.reduce((sum, value) => sum + value, 0) / count;
  return chain.map((value) => patchShare * (value - middle));
}
