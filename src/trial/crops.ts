import { KG_PER_POUND } from './units.ts';

/**
 * What the trade knows of each crop: pounds in a trade bushel, standard moisture, and the limits outside which a
 * moisture reading is a sensor fault. United States trade standards (see fixtures/crop-units/SOURCE.md); other
 * countries differ, so every figure is a starting value that the trial document overrides.
 */
export interface Crop {
  readonly id: string;
  readonly poundsPerBushel: number;
  readonly standardMoisturePercent: number;
  readonly moistureMinPercent: number;
  readonly moistureMaxPercent: number;
}

function crop(id: string, poundsPerBushel: number, standardMoisturePercent: number): Crop {
  return {
    id,
    poundsPerBushel,
    standardMoisturePercent,
    moistureMinPercent: 6,
    moistureMaxPercent: 35,
  };
}

export const CROPS: readonly Crop[] = [
  { ...crop('maize', 56, 15.5), moistureMinPercent: 8, moistureMaxPercent: 40 },
  crop('soybean', 60, 13),
  crop('wheat', 60, 13.5),
  crop('barley', 48, 14.5),
  crop('rye', 56, 14),
  crop('oats', 32, 14),
  crop('sorghum', 56, 14),
  crop('canola', 50, 8.5),
  crop('sunflower', 28, 10),
];

/** Limits for grain of which nothing is known: the wider of the above (common practice). */
export const ANY_GRAIN_MOISTURE = { minPercent: 6, maxPercent: 40 } as const;

export function findCrop(id: string | null): Crop | null {
  if (id === null) return null;
  const wanted = id.trim().toLowerCase();
  const name = wanted === 'corn' ? 'maize' : wanted;
  return CROPS.find((candidate) => candidate.id === name) ?? null;
}

/** The crop with the bushel of one file, which may count bushels of another weight, or of a crop that is not known here. */
export function cropWithBushel(known: Crop | null, kgPerBushel: number | null | undefined): Crop | null {
  if (kgPerBushel === null || kgPerBushel === undefined) return known;
  return { ...(known ?? crop('', 0, 0)), poundsPerBushel: kgPerBushel / KG_PER_POUND };
}
