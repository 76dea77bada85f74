import type { PointFacts } from '../harvest/point-facts.ts';
import type { PlacedPoints } from '../harvest/strip-values.ts';
import type { Harvested } from './harvest-of.ts';
import type { KeptWork } from './kept-work.ts';

/** Of one of these points, from the harvest that they came from; null where another one has been worked out since. */
export async function keptFactsOfPoint(
  kept: KeptWork,
  points: PlacedPoints,
  index: number,
): Promise<PointFacts | null> {
  const newest = (await kept.newest('harvest')) as Harvested | null;
  return newest?.placed === points ? (newest.factsOfPoint?.(index) ?? null) : null;
}
