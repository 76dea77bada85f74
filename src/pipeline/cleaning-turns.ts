import { type DisplayUnit, lengthUnit } from '../trial/display-units.ts';
import { type CleaningTurns, cleaningChanges } from '../words/cleaning-sentences.ts';
import type { CleaningGrid } from './cleaning-grid.ts';
import type { ComparisonVerdict } from './verdicts-of-strips.ts';

/** So many settings are named where none turns a verdict by itself. */
const MOST_NAMED = 2;

/** For each comparison of the grid: which settings turn a verdict on it, on the difference or on money. */
export function cleaningTurns(
  { results, comparisons }: CleaningGrid,
  length: DisplayUnit = lengthUnit('metric'),
): readonly CleaningTurns[] {
  const own = results[0]?.cleaning;
  if (own === undefined) return [];
  const changed = results.map(({ cleaning, verdicts }) => ({
    changes: cleaningChanges(cleaning, own, length),
    verdicts: verdicts ?? [],
  }));
  return comparisons.map((comparison) => {
    const tried = changed.flatMap(({ changes, verdicts }) => {
      const one = verdicts.find(({ a, b }) => a === comparison.a && b === comparison.b);
      return one === undefined ? [] : [{ changes, isTurned: isTurned(one, comparison.own) }];
    });
    const turned = tried.filter((one) => one.isTurned).map(({ changes }) => changes);
    return {
      alone: turned.filter((changes) => changes.length === 1).flat(),
      often: mostOften(
        turned,
        tried.map(({ changes }) => changes),
      ),
    };
  });
}

function isTurned(one: ComparisonVerdict, own: ComparisonVerdict): boolean {
  return one.difference !== own.difference || one.money !== own.money;
}

/** By the share of the cleanings with a change that turn: settings of two levels are changed more often than those of three. */
function mostOften(
  turned: readonly (readonly string[])[],
  tried: readonly (readonly string[])[],
): CleaningTurns['often'] {
  const of = counts(tried);
  return [...counts(turned)]
    .map(([change, count]) => ({ change, count, of: of.get(change) ?? count }))
    .sort((x, y) => y.count / y.of - x.count / x.of)
    .slice(0, MOST_NAMED);
}

function counts(all: readonly (readonly string[])[]): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const change of all.flat()) found.set(change, (found.get(change) ?? 0) + 1);
  return found;
}
