import type { HandHarvestInput, HandSampleInput } from './harvest-input.ts';

type Response = HandHarvestInput['otherResponses'][number];

/** How samples of one strip are put together in one response. */
export type MeanBy =
  /** Content of a mass: mass of what is contained over all mass. */
  | 'mass'
  /** Mass over volume: all mass over all volume. */
  | 'volume'
  | 'samples';

/** Words by which people name what a mass contains (common practice, no source). */
const CONTENT_WORDS = new Set([
  ...['protein', 'oil', 'starch', 'gluten', 'sugar', 'ash', 'fat', 'fibre', 'fiber', 'nitrogen', 'moisture'],
  ...['eiweiss', 'rohprotein', 'ol', 'olgehalt', 'starke', 'zucker', 'kleber', 'rohfaser', 'feuchte'],
  ...['proteine', 'proteines', 'huile', 'amidon', 'sucre', 'proteina', 'aceite', 'almidon', 'azucar'],
]);
const CONTENT_UNITS = new Set(['%', 'percent', 'g/kg', 'g/100g']);
/** Of grain in bulk: words that stand together in a heading, and units (common practice, no source). */
const BULK_WORDS = ['testweight', 'bushelweight', 'hectolit', 'hektolit', 'pesohectol', 'poidsspecifique'];
const BULK_UNITS = new Set(['kg/hl', 'lb/bu', 'g/l']);

/**
 * Which responses are ratios to a mass, so that a large sample says more of its strip than a small one? Protein and other
 * contents by their name and unit; test weight, which is mass over volume.
 */
export function isRatioToMass({ name, unit }: Response): Exclude<MeanBy, 'samples'> | null {
  const joined = plain(name).replace(/[^\p{L}]+/gu, '');
  const of = unit === null ? null : unit.toLowerCase().replace(/\s/g, '');
  if (BULK_WORDS.some((word) => joined.includes(word)) || (of !== null && BULK_UNITS.has(of)))
    return 'volume';
  const isNamed = plain(name)
    .split(/[^\p{L}]+/u)
    .some((word) => CONTENT_WORDS.has(word));
  return isNamed && (of === null || CONTENT_UNITS.has(of)) ? 'mass' : null;
}

/**
 * The samples' mean of a ratio to mass, by their masses as weighed: contents as mass contained over mass, mass over volume as
 * mass over volume. null without a value.
 */
export function meanByMass(
  samples: readonly HandSampleInput[],
  name: string,
  by: Exclude<MeanBy, 'samples'>,
): number | null {
  const known = samples.flatMap(({ others, weightKg }) => {
    const value = others[name] ?? null;
    return value === null ? [] : [{ value, massKg: weightKg ?? 0 }];
  });
  if (known.length === 0) return null;
  const sum = (of: (sample: (typeof known)[number]) => number) =>
    known.reduce((total, sample) => total + of(sample), 0);
  const massKg = sum((sample) => sample.massKg);
  return by === 'mass'
    ? sum((sample) => sample.value * sample.massKg) / massKg
    : massKg / sum((sample) => sample.massKg / sample.value);
}

/** By mass where each sample of each strip that has several was weighed; a mean over volume needs values above zero too. */
export function canWeigh(
  strips: readonly (readonly HandSampleInput[])[],
  name: string,
  by: Exclude<MeanBy, 'samples'>,
): boolean {
  const several = withSeveral(strips, name).flat();
  return several.every(
    ({ weightKg, others }) => (weightKg ?? 0) > 0 && (by === 'mass' || (others[name] ?? 0) > 0),
  );
}

/** The samples with a value, of strips that have several. */
export function withSeveral(
  strips: readonly (readonly HandSampleInput[])[],
  name: string,
): readonly (readonly HandSampleInput[])[] {
  return strips
    .map((samples) => samples.filter(({ others }) => (others[name] ?? null) !== null))
    .filter(({ length }) => length > 1);
}

function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}
