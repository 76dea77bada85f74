import type { FactorTerm } from '../../analyses/model-terms.ts';
import type { Plot } from './response-plots.ts';

/** Levels that occur on the plots, renumbered in the order of the names. */
export function factorOf(
  id: string,
  plots: readonly Plot[],
  levelOf: (plot: Plot) => number | null | undefined,
): FactorTerm {
  const levels = occurringLevels(plots, levelOf);
  const place = new Map(levels.map((level, index) => [level, index]));
  return {
    kind: 'factor',
    id,
    levelOfPlot: plots.map((plot) => place.get(levelOf(plot) ?? 0) ?? 0),
    levelCount: levels.length,
  };
}

export function occurringLevels(
  plots: readonly Plot[],
  levelOf: (plot: Plot) => number | null | undefined,
): number[] {
  return [...new Set(plots.map((plot) => levelOf(plot) ?? 0))].sort((x, y) => x - y);
}
