import type { PointLabels } from './harvest-data.ts';

/** A column of more names than this labels nothing that many points have in common. */
const MOST_NAMES = 60;

/** A text column as names and the place of each point's name among them; null where nothing stands in it. */
export function pointLabels(texts: readonly string[]): PointLabels | null {
  const places = new Map<string, number>();
  const of = new Int16Array(texts.length).fill(-1);
  let [before, place] = ['', -1];
  for (let i = 0; i < texts.length; i += 1) {
    const text = texts[i] ?? '';
    if (text !== before) {
      before = text;
      place = placeOf(text.trim(), places);
    }
    if (places.size > MOST_NAMES) return null;
    of[i] = place;
  }
  return places.size === 0 ? null : { names: [...places.keys()], of };
}

function placeOf(name: string, places: Map<string, number>): number {
  if (name === '') return -1;
  const known = places.get(name) ?? places.size;
  places.set(name, known);
  return known;
}
