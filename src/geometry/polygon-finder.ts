import Flatbush from 'flatbush';
import { type LocalPolygon, polygonBox, polygonContains } from './local-polygon.ts';

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
  return (eastM, northM) => {
    let first = Number.POSITIVE_INFINITY;
    for (const candidate of tree.search(eastM, northM, eastM, northM)) {
      const { polygon, index } = drawn[candidate]!;
      if (index < first && polygonContains(polygon, eastM, northM)) first = index;
    }
    return first === Number.POSITIVE_INFINITY ? -1 : first;
  };
}
