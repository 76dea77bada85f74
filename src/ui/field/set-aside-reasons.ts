import type { SET_ASIDE_REASONS } from '../../harvest/strip-values.ts';
import { setAsideWords } from '../../words/set-aside-words.ts';

/** The reasons in the order in which points carry them; the compiler holds this list to harvest's own. */
export const REASONS: typeof SET_ASIDE_REASONS = [
  'unreadable',
  'outsideStrips',
  'sideMargin',
  'headerUp',
  'turning',
  'cutFromBlock',
  'cutFromStrip',
  'appliedOtherwise',
  'endMargin',
  'speed',
  'width',
  'moisture',
  'yield',
  'outlier',
];

/** null for a point that was kept. */
export function reasonWords(reason: number): string | null {
  const name = REASONS[reason - 1];
  return name === undefined ? null : setAsideWords(name);
}
