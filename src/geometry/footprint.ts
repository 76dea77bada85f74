import { inRadians } from './angle.ts';
import type { LocalPolygon } from './local-polygon.ts';
import { type Corner, clipByHalfPlane, convexAreaM2 } from './overlap.ts';

/** The ground that one logged point stands for: a rectangle as wide as the header that lies behind the point. */
export interface Footprint {
  /** The logged point: the middle of the rectangle's front. */
  readonly eastM: number;
  readonly northM: number;
  /** Direction of travel, degrees clockwise from grid north. */
  readonly headingDegrees: number;
  readonly widthM: number;
  readonly lengthM: number;
}

/** The rectangle's corners, counter-clockwise. */
export function footprintCorners(footprint: Footprint): readonly Corner[] {
  const { eastM, northM, widthM, lengthM } = footprint;
  const heading = inRadians(footprint.headingDegrees);
  const [aheadEast, aheadNorth] = [Math.sin(heading), Math.cos(heading)];
  const corner = (right: number, ahead: number): Corner => [
    eastM + right * aheadNorth + ahead * aheadEast,
    northM - right * aheadEast + ahead * aheadNorth,
  ];
  const half = widthM / 2;
  return [corner(-half, 0), corner(-half, -lengthM), corner(half, -lengthM), corner(half, 0)];
}

/** How one convex shape lies over others: m² in each of them, and in none. They add up to the shape's own area. */
export interface Pieces {
  readonly insideM2: readonly number[];
  readonly outsideM2: number;
}

/**
 * Cuts a convex shape by convex polygons (corners counter-clockwise). What lies in two of them counts to the first.
 * Each polygon is taken out of what is left of the shape edge by edge, so the pieces are disjoint and convex.
 */
export function piecesOverPolygons(
  shape: readonly Corner[],
  polygons: readonly (readonly Corner[])[],
): Pieces {
  let left: (readonly Corner[])[] = [shape];
  const insideM2 = polygons.map((polygon) => {
    const edges = edgesOf(polygon);
    const outside: (readonly Corner[])[] = [];
    let inside = 0;
    for (const piece of left) inside += convexAreaM2(takeOut(piece, edges, outside));
    left = outside;
    return inside;
  });
  return { insideM2, outsideM2: left.reduce((sum, piece) => sum + convexAreaM2(piece), 0) };
}

/** An edge of a convex polygon, which lies to its left. */
export type Edge = readonly [from: Corner, to: Corner];

/** A corner that stands twice has no edge. */
export function edgesOf(polygon: readonly Corner[]): readonly Edge[] {
  return polygon.flatMap((from, i): Edge[] => {
    const to = polygon[(i + 1) % polygon.length]!;
    return from[0] === to[0] && from[1] === to[1] ? [] : [[from, to]];
  });
}

/**
 * What of a convex piece lies in the convex polygon with these edges; what lies outside is handed on in convex
 * pieces, those beyond the first edge whole.
 */
export function takeOut(
  piece: readonly Corner[],
  edges: readonly Edge[],
  outside: (readonly Corner[])[],
): readonly Corner[] {
  let rest = piece;
  for (const [from, to] of edges) {
    if (rest.length < 3) break;
    const beyond = clipByHalfPlane(rest, to, from);
    if (beyond.length > 2) outside.push(beyond);
    rest = clipByHalfPlane(rest, from, to);
  }
  return rest;
}

/** Digitised corners may bend a straight edge inwards by this share of its length; that is still called convex. */
const BENT_SHARE = 1e-9;

/** The outline's corners, counter-clockwise, where the polygon is one convex part without holes; else null. */
export function convexCorners(polygon: LocalPolygon): readonly Corner[] | null {
  const ring = polygon[0]?.[0];
  if (ring === undefined || polygon.length > 1 || (polygon[0]?.length ?? 0) > 1) return null;
  const corners: Corner[] = [];
  for (let i = 0; i < ring.length; i += 2) corners.push([ring[i]!, ring[i + 1]!]);
  if (corners.length < 3) return null;
  const turns = corners.map((corner, i) =>
    turnAt(corner, corners[(i + 1) % corners.length]!, corners[(i + 2) % corners.length]!),
  );
  if (turns.every((turn) => turn >= -BENT_SHARE) && windsOnce(corners)) return corners;
  if (turns.every((turn) => turn <= BENT_SHARE) && windsOnce(corners)) return corners.reverse();
  return null;
}

/** Sine of the turn from one edge to the next; positive to the left. */
function turnAt(a: Corner, b: Corner, c: Corner): number {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
  const lengths = Math.hypot(ux, uy) * Math.hypot(vx, vy);
  return lengths === 0 ? 0 : (ux * vy - uy * vx) / lengths;
}

/** A star turns one way at every corner too, but goes round more than once. */
function windsOnce(corners: readonly Corner[]): boolean {
  let turned = 0;
  corners.forEach((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    const c = corners[(i + 2) % corners.length]!;
    const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
    turned += Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
  });
  return Math.abs(Math.abs(turned) - 2 * Math.PI) < 0.1;
}
