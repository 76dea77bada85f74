import { type PointGrid, type SortSome, startPointGrid } from '../../geometry/point-grid.ts';
import type { PlacedPoints } from '../../harvest/strip-values.ts';
import { inTurn } from '../state/turns.ts';

const POINTS_A_TURN = 50_000;
const KNOWN = new WeakMap<PlacedPoints, { grid: PointGrid | null }>();

/** Null until they are sorted, which is begun when this is first asked, some points a turn. */
export function sortedPoints(points: PlacedPoints): PointGrid | null {
  const known = KNOWN.get(points) ?? { grid: null };
  if (!KNOWN.has(points)) {
    KNOWN.set(points, known);
    void sortInTurns(points, known);
  }
  return known.grid;
}

async function sortInTurns(points: PlacedPoints, known: { grid: PointGrid | null }): Promise<void> {
  let sortSome: SortSome | null = null;
  while (known.grid === null) {
    await inTurn(() => {
      sortSome ??= startPointGrid(points.eastM, points.northM);
      known.grid = sortSome(POINTS_A_TURN);
    });
  }
}
