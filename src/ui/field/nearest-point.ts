import { nearestInGrid, type PointGrid } from '../../geometry/point-grid.ts';
import type { PlacedPoints } from '../../harvest/strip-values.ts';

/** Index of the drawn point nearest to a place on the ground, within a distance; -1 where none is that near. */
export function nearestPoint(
  points: PlacedPoints,
  grid: PointGrid | null,
  eastM: number,
  northM: number,
  withinM: number,
  withSetAside: boolean,
): number {
  const isDrawn = (index: number) => withSetAside || points.reason[index] === 0;
  if (grid !== null) return nearestInGrid(grid, eastM, northM, withinM, isDrawn);
  return nearestOfAll(points, eastM, northM, withinM, isDrawn);
}

/** By looking at every point, while they are not sorted yet. */
export function nearestOfAll(
  points: Pick<PlacedPoints, 'eastM' | 'northM'>,
  eastM: number,
  northM: number,
  withinM: number,
  isWanted: (index: number) => boolean,
): number {
  let nearest = -1;
  let least = withinM * withinM;
  for (let i = 0; i < points.eastM.length; i += 1) {
    const dx = points.eastM[i]! - eastM;
    const dy = points.northM[i]! - northM;
    const distance = dx * dx + dy * dy;
    if (distance <= least && isWanted(i)) {
      least = distance;
      nearest = i;
    }
  }
  return nearest;
}

/** The next point in the order of the file, going on from the last to the first; -1 where there is none to go to. */
export function neighbourInFile(
  points: PlacedPoints,
  from: number,
  step: 1 | -1,
  wanted: (reason: number) => boolean,
): number {
  const count = points.reason.length;
  for (let tried = 1; tried <= count; tried += 1) {
    const index = ((((from < 0 && step < 0 ? 0 : from) + step * tried) % count) + count) % count;
    if (wanted(points.reason[index]!)) return index;
  }
  return -1;
}
