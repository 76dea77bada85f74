import type { HandHarvestInput, HandSampleInput } from './harvest-input.ts';

/** Words by which people name what they counted (common practice, no source). */
const COUNT_WORDS = new Set([
  ...[
    'count',
    'counts',
    'number',
    'plants',
    'stand',
    'heads',
    'ears',
    'spikes',
    'panicles',
    'tillers',
    'shoots',
  ],
  ...['pods', 'weeds', 'insects', 'larvae', 'lesions', 'anzahl', 'zahl', 'pflanzen', 'ahren', 'triebe'],
  ...['nombre', 'plantes', 'epis', 'numero', 'plantas', 'espigas', 'conteo'],
]);

/**
 * Which responses are counts that must be taken over the ground they were counted on? Those named as counts, whole numbers
 * throughout, without a unit of their own, whose samples all have a known area and not all the same one: a plain mean of
 * counts from quadrats of one and of two square metres would say nothing.
 */
export function countsOverArea({ samples, otherResponses }: HandHarvestInput): ReadonlySet<string> {
  const isCount = ({ name, unit }: HandHarvestInput['otherResponses'][number]) => {
    const counted = samples.filter(({ others }) => (others[name] ?? null) !== null);
    const isWhole = counted.every(({ others }) => Number.isInteger(others[name]) && others[name]! >= 0);
    return (
      unit === null && counted.length > 0 && isWhole && wordsOf(name).some((word) => COUNT_WORDS.has(word))
    );
  };
  const counts = otherResponses.filter(isCount).map(({ name }) => name);
  return new Set(counts.filter((name) => haveDifferingAreas(samples, name)));
}

function haveDifferingAreas(samples: readonly HandSampleInput[], name: string): boolean {
  const areas = samples.flatMap(({ others, areaM2 }) => ((others[name] ?? null) === null ? [] : [areaM2]));
  const known = areas.flatMap((area) => (area !== null && area > 0 ? [area] : []));
  if (known.length < areas.length) return false;
  const [least, most] = [Math.min(...known), Math.max(...known)];
  return most - least > 1e-9 * most;
}

/** Per square metre, all that was counted over all the ground; null without a count. */
export function countPerM2(samples: readonly HandSampleInput[], name: string): number | null {
  const counted = samples.filter(({ others }) => (others[name] ?? null) !== null);
  const sum = (of: (sample: HandSampleInput) => number) =>
    counted.reduce((total, sample) => total + of(sample), 0);
  return counted.length === 0
    ? null
    : sum(({ others }) => others[name] ?? 0) / sum(({ areaM2 }) => areaM2 ?? 0);
}

function wordsOf(name: string): readonly string[] {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^\p{L}]+/u);
}
