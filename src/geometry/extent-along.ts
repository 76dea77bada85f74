import { type LocalPolygon, type LocalRing, polygonContains } from './local-polygon.ts';
import { alongM, type OrientedStrip } from './oriented-strip.ts';
import { overlapAreaM2 } from './overlap.ts';

/** From and to along a strip's axis, in metres from the strip's centre. */
export interface ExtentAlong {
  readonly fromM: number;
  readonly toM: number;
}

/** Ground shared below this is rounding along an edge that both have. */
const LEAST_SHARED_M2 = 0.01;

/**
 * How far along a strip does an area reach over it? The least and the greatest place along the axis of the ground
 * that both share: these lie at a corner of one within the other, or where two edges cross. null where they share no
 * ground. An area in two pieces gives the way from the first's beginning to the last's end.
 */
export function extentAlong(
  area: LocalPolygon,
  strip: LocalPolygon,
  oriented: OrientedStrip,
): ExtentAlong | null {
  if (overlapAreaM2(area, strip) < LEAST_SHARED_M2) return null;
  let [fromM, toM] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const reach = (eastM: number, northM: number) => {
    const along = alongM(oriented, eastM, northM);
    fromM = Math.min(fromM, along);
    toM = Math.max(toM, along);
  };
  cornersWithin(area, strip, reach);
  cornersWithin(strip, area, reach);
  for (const one of area.flat()) for (const other of strip.flat()) crossings(one, other, reach);
  return toM > fromM ? { fromM, toM } : null;
}

type Reach = (eastM: number, northM: number) => void;

function cornersWithin(polygon: LocalPolygon, other: LocalPolygon, reach: Reach): void {
  for (const ring of polygon.flat()) {
    for (let i = 0; i < ring.length; i += 2) {
      if (polygonContains(other, ring[i]!, ring[i + 1]!)) reach(ring[i]!, ring[i + 1]!);
    }
  }
}

/** Ends of edges count as crossings, since a corner that lies on a side is held by one of two neighbours only. */
function crossings(one: LocalRing, other: LocalRing, reach: Reach): void {
  for (let i = 0; i < one.length; i += 2) {
    const [x, y] = [one[i]!, one[i + 1]!];
    const k = (i + 2) % one.length;
    const [dx, dy] = [one[k]! - x, one[k + 1]! - y];
    for (let j = 0; j < other.length; j += 2) {
      const [u, v] = [other[j]!, other[j + 1]!];
      const l = (j + 2) % other.length;
      const [du, dv] = [other[l]! - u, other[l + 1]! - v];
      const turn = dx * dv - dy * du;
      if (turn === 0) continue;
      const share = ((u - x) * dv - (v - y) * du) / turn;
      const shareOfOther = ((u - x) * dy - (v - y) * dx) / turn;
      if (isOnEdge(share) && isOnEdge(shareOfOther)) reach(x + share * dx, y + share * dy);
    }
  }
}

function isOnEdge(share: number): boolean {
  return share >= 0 && share <= 1;
}
