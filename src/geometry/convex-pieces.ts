import { convexCorners } from './footprint.ts';
import type { LocalPolygon, LocalRing } from './local-polygon.ts';
import { type Corner, convexAreaM2 } from './overlap.ts';

/** Corners counter-clockwise. */
export type ConvexShape = readonly Corner[];

/**
 * The polygon as convex pieces that do not overlap and add up to it: itself where it is convex, else trapezoids
 * between the heights of its corners, holes left open (the trapezoidal decomposition of de Berg et al. 2008,
 * Computational Geometry, chapter 6). null where its outline crosses itself.
 */
export function convexPieces(polygon: LocalPolygon): readonly ConvexShape[] | null {
  const whole = convexCorners(polygon);
  if (whole !== null) return [whole];
  const parts = polygon.map(trapezoids);
  return parts.some((part) => part === null) ? null : parts.flatMap((part) => part ?? []);
}

interface Edge {
  readonly lowX: number;
  readonly lowY: number;
  readonly highY: number;
  /** East per north. */
  readonly slope: number;
}

/** Crossing by less than this share of the slab's own width is rounding. */
const CROSSING_SHARE = 1e-9;

function trapezoids(rings: readonly LocalRing[]): ConvexShape[] | null {
  const edges = rings.flatMap(edgesOf).sort((a, b) => a.lowY - b.lowY);
  const levels = [...new Set(edges.flatMap(({ lowY, highY }) => [lowY, highY]))].sort((a, b) => a - b);
  const pieces: ConvexShape[] = [];
  let active: Edge[] = [];
  let next = 0;
  for (let k = 0; k + 1 < levels.length; k++) {
    const [bottom, top] = [levels[k]!, levels[k + 1]!];
    active = active.filter(({ highY }) => highY >= top);
    while (next < edges.length && edges[next]!.lowY <= bottom) active.push(edges[next++]!);
    if (!cutSlab(active, bottom, top, pieces)) return null;
  }
  return pieces;
}

/** False where two edges cross between the two heights. */
function cutSlab(active: readonly Edge[], bottom: number, top: number, pieces: ConvexShape[]): boolean {
  const middle = (bottom + top) / 2;
  const sides = active
    .map((edge) => ({ at: eastAt(edge, middle), low: eastAt(edge, bottom), high: eastAt(edge, top) }))
    .sort((a, b) => a.at - b.at);
  const widest = (sides.at(-1)?.at ?? 0) - (sides[0]?.at ?? 0);
  for (let i = 1; i < sides.length; i++) {
    const gap = Math.min(sides[i]!.low - sides[i - 1]!.low, sides[i]!.high - sides[i - 1]!.high);
    if (gap < -CROSSING_SHARE * (1 + widest)) return false;
  }
  for (let i = 0; i + 1 < sides.length; i += 2) {
    const [left, right] = [sides[i]!, sides[i + 1]!];
    const piece = withoutRepeats([
      [left.low, bottom],
      [right.low, bottom],
      [right.high, top],
      [left.high, top],
    ]);
    if (convexAreaM2(piece) > 0) pieces.push(piece);
  }
  return true;
}

function withoutRepeats(corners: readonly Corner[]): ConvexShape {
  return corners.filter(([x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length]!;
    return x !== nextX || y !== nextY;
  });
}

function edgesOf(ring: LocalRing): Edge[] {
  const edges: Edge[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    const [x1, y1, x2, y2] = [ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!];
    if (y1 === y2) continue;
    const slope = (x2 - x1) / (y2 - y1);
    edges.push(y1 < y2 ? { lowX: x1, lowY: y1, highY: y2, slope } : { lowX: x2, lowY: y2, highY: y1, slope });
  }
  return edges;
}

function eastAt({ lowX, lowY, slope }: Edge, north: number): number {
  return lowX + slope * (north - lowY);
}
