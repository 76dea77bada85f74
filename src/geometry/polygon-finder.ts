import Flatbush from 'flatbush';
import { type LocalPolygon, polygonBox, polygonContains } from './local-polygon.ts';

/** Cells along each side of the grid that remembers which polygons are near. */
const CELLS = 128;

/**
 * Which of many polygons holds a point: its index, or -1. Edges are half-open as in `polygonContains`, so a point
 * on an edge of two strips drawn corner on corner belongs to exactly one; where polygons overlap, or meet along an
 * edge whose corners differ, the first in the list takes what two would hold. null polygons hold nothing.
 */
export function polygonFinder(
  polygons: readonly (LocalPolygon | null)[],
): (eastM: number, northM: number) => number {
  const drawn = polygons.flatMap((polygon, index) => (polygon === null ? [] : [{ polygon, index }]));
  if (drawn.length === 0) return () => -1;
  const tree = new Flatbush(drawn.length);
  for (const { polygon } of drawn) {
    const box = polygonBox(polygon);
    tree.add(box.minEastM, box.minNorthM, box.maxEastM, box.maxNorthM);
  }
  tree.finish();
  const near = nearByCell(tree);
  return (eastM, northM) => {
    const candidates = near(eastM, northM);
    for (let k = 0; k < candidates.length; k++) {
      const { polygon, index } = drawn[candidates[k]!]!;
      if (polygonContains(polygon, eastM, northM)) return index;
    }
    return -1;
  };
}

const NONE: readonly number[] = [];

/** The boxes that meet a point's cell, in order; the tree is asked once a cell, since points come by the thousand. */
function nearByCell(tree: Flatbush): (eastM: number, northM: number) => readonly number[] {
  const { minX, minY, maxX, maxY } = tree;
  const [wideM, highM] = [(maxX - minX) / CELLS, (maxY - minY) / CELLS];
  const cells = new Array<readonly number[] | undefined>(CELLS * CELLS);
  const cellOf = (fromStart: number, size: number) =>
    size > 0 ? Math.min(CELLS - 1, Math.floor(fromStart / size)) : 0;
  return (eastM, northM) => {
    if (!(eastM >= minX && eastM <= maxX && northM >= minY && northM <= maxY)) return NONE;
    const column = cellOf(eastM - minX, wideM);
    const row = cellOf(northM - minY, highM);
    const cell = row * CELLS + column;
    cells[cell] ??= around(tree, minX + column * wideM, minY + row * highM, wideM, highM);
    return cells[cell];
  };
}

/** A little wider than the cell, so that rounding at its edge loses nothing. */
function around(tree: Flatbush, west: number, south: number, wideM: number, highM: number): number[] {
  const [moreEast, moreNorth] = [0.01 * wideM, 0.01 * highM];
  const found = tree.search(
    west - moreEast,
    south - moreNorth,
    west + wideM + moreEast,
    south + highM + moreNorth,
  );
  return found.sort((a, b) => a - b);
}
