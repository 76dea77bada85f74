import type { ExclusionReason } from '../trial/exclusion-area.ts';

/** Why ground is left out, as the page and the field name it. */
export const EXCLUSION_WORDS: Readonly<Record<ExclusionReason, string>> = {
  wetHole: 'Wet hole',
  waterway: 'Waterway',
  lodging: 'Lodging',
  hail: 'Hail',
  treeLine: 'Tree line',
  other: 'Other',
};
