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
  /**
   * How far good and bad ground reach. null or left out: patches of each strip alone, with no neighbour across; a
   * range in metres: one ground under all strips, of exponential covariance exp(-3h / range); 0: white noise.
   */
  readonly groundRangeM?: number | null;
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
  const ground = groundAt(specification, random);
  const patches = yieldKgPerHa.map((_, strip) =>
    ground === null ? patchesOf(specification, random) : patchesOn(ground, strip, specification),
  );
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

type Ground = (eastM: number, northM: number) => number;

const WAVES = 400;

/**
 * A Gaussian ground of mean 0 and variance 1 as a sum of waves at random (M. Shinozuka & C.-M. Jan 1972, J. Sound
 * Vib. 25:111-128). In the plane exp(-h / a) has the spectrum of wave numbers k with 1 - F(k) = (1 + (a k)^2)^(-1/2).
 */
function groundAt({ groundRangeM }: FieldSpecification, random: SeededRandom): Ground | null {
  if (groundRangeM === undefined || groundRangeM === null) return null;
  if (groundRangeM === 0) return () => random.normal();
  const waves = Array.from({ length: WAVES }, () => {
    const k = (3 / groundRangeM) * Math.sqrt((1 - random.uniform()) ** -2 - 1);
    const angle = 2 * Math.PI * random.uniform();
    return [k * Math.cos(angle), k * Math.sin(angle), 2 * Math.PI * random.uniform()] as const;
  });
  const scale = Math.sqrt(2 / WAVES);
  return (eastM, northM) =>
    scale *
    waves.reduce((sum, [kEast, kNorth, phase]) => sum + Math.cos(kEast * eastM + kNorth * northM + phase), 0);
}

/** The ground along a strip's middle, centred and brought to the asked spread. */
function patchesOn(ground: Ground, strip: number, specification: FieldSpecification): number[] {
  const { stripWidthM, stripLengthM, patchShare } = specification;
  const count = Math.ceil(stripLengthM / PATCH_M);
  const along = Array.from({ length: count }, (_, k) =>
    ground((strip + 0.5) * stripWidthM, (k + 0.5) * PATCH_M),
  );
  const middle = along.reduce((sum, value) => sum + value, 0) / count;
  const spread = Math.sqrt(along.reduce((sum, value) => sum + (value - middle) ** 2, 0) / count);
  return along.map((value) => (patchShare * (value - middle)) / spread);
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
