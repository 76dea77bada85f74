import { type CleaningTurns, cleaningChanges } from '../words/cleaning-sentences.ts';
import type { CleaningGrid } from './cleaning-grid.ts';

/** So many settings are named where none turns a verdict by itself. */
const MOST_NAMED = 2;

/** For each comparison of the grid: which settings turn a verdict on it, on the difference or on money. */
export function cleaningTurns({ results, comparisons }: CleaningGrid): readonly CleaningTurns[] {
  const own = results[0]?.cleaning;
  if (own === undefined) return [];
  return comparisons.map((comparison) => {
    const turned = results.flatMap(({ cleaning, verdicts }) => {
      const { a, b } = comparison;
      const one = verdicts?.find((verdict) => verdict.a === a && verdict.b === b);
      const isTurned =
        one !== undefined &&
        (one.difference !== comparison.own.difference || one.money !== comparison.own.money);
      return isTurned ? [cleaningChanges(cleaning, own)] : [];
    });
    const counts = new Map<string, number>();
    for (const change of turned.flat()) counts.set(change, (counts.get(change) ?? 0) + 1);
    const often = [...counts].map(([change, count]) => ({ change, count })).sort((x, y) => y.count - x.count);
    return {
      alone: turned.filter((changes) => changes.length === 1).flat(),
      often: often.slice(0, MOST_NAMED),
    };
  });
}
