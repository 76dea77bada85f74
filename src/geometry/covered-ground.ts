import type { ConvexShape } from './convex-pieces.ts';
import { type Edge, edgesOf, takeOut } from './footprint.ts';
import { acrossM, alongM, type OrientedStrip } from './oriented-strip.ts';
import { type Corner, clipByHalfPlane, convexAreaM2 } from './overlap.ts';

/** Ground by how many shapes lie on it, in convex pieces: on none, on one, on several. */
export interface CoveredGround {
  readonly areaM2: number;
  readonly bare: readonly ConvexShape[];
  readonly once: readonly ConvexShape[];
  readonly more: readonly ConvexShape[];
}

/** A piece smaller than this is what rounding leaves along an edge. */
const LEAST_PIECE_M2 = 1e-14;

/**
 * How much of a ground do shapes cover, once and more than once? Each shape is cut out of what is still bare and out
 * of what was covered once, edge by edge, so that the pieces are disjoint and their areas add up to the ground's own.
 * All shapes are convex, counter-clockwise; the ground's pieces do not overlap.
 */
export function coverGround(ground: readonly ConvexShape[], shapes: readonly ConvexShape[]): CoveredGround {
  let bare = ground.map(boxed);
  let once: Boxed[] = [];
  const more: Boxed[] = [];
  for (const corners of shapes) {
    const shape = { ...boxed(corners), edges: longestFirst(corners) };
    const stillOnce = separated(once, shape, more);
    const first: Boxed[] = [];
    bare = separated(bare, shape, first);
    once = [...stillOnce, ...first];
  }
  const shapesOf = (pieces: readonly Boxed[]) => pieces.map(({ corners }) => corners);
  return { areaM2: areaOf(ground), bare: shapesOf(bare), once: shapesOf(once), more: shapesOf(more) };
}

export function areaOf(pieces: readonly ConvexShape[]): number {
  return pieces.reduce((sum, piece) => sum + convexAreaM2(piece), 0);
}

/** What of the pieces lies left of each of the lines. */
export function withinSides(
  pieces: readonly ConvexShape[],
  sides: readonly (readonly [Corner, Corner])[],
): readonly ConvexShape[] {
  return pieces.flatMap((piece) => {
    let rest = piece;
    for (const [from, to] of sides) if (rest.length > 2) rest = clipByHalfPlane(rest, from, to);
    return convexAreaM2(rest) > LEAST_PIECE_M2 ? [rest] : [];
  });
}

/**
 * Area of the pieces in each slice across a strip: `count` slices of `stepM` from `fromM`, along its axis and counted
 * from its centre. What lies before the first or behind the last slice is not counted.
 */
export function areaAlong(
  pieces: readonly ConvexShape[],
  strip: OrientedStrip,
  { fromM, stepM, count }: { readonly fromM: number; readonly stepM: number; readonly count: number },
): Float64Array {
  const areaM2 = new Float64Array(count);
  for (const piece of pieces) {
    // Across to the right and along ahead: a frame that turns as east and north do, so corners stay counter-clockwise.
    const turned = piece.map(
      ([east, north]): Corner => [acrossM(strip, east, north), alongM(strip, east, north)],
    );
    const alongs = turned.map(([, along]) => along);
    const first = Math.max(0, Math.floor((Math.min(...alongs) - fromM) / stepM));
    const last = Math.min(count - 1, Math.floor((Math.max(...alongs) - fromM) / stepM));
    for (let k = first; k <= last; k++) {
      const [low, high] = [fromM + k * stepM, fromM + (k + 1) * stepM];
      const above = clipByHalfPlane(turned, [0, low], [1, low]);
      areaM2[k]! += convexAreaM2(clipByHalfPlane(above, [1, high], [0, high]));
    }
  }
  return areaM2;
}

interface Boxed {
  readonly corners: ConvexShape;
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/** What lies beyond the first edge stays whole, and a swath is wider than long: so the ground ahead of it does. */
function longestFirst(corners: ConvexShape): readonly Edge[] {
  const lengthOf = ([from, to]: Edge) => Math.hypot(to[0] - from[0], to[1] - from[1]);
  return [...edgesOf(corners)].sort((a, b) => lengthOf(b) - lengthOf(a));
}

function boxed(corners: ConvexShape): Boxed {
  let [west, south] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [east, north] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [x, y] of corners) {
    west = Math.min(west, x);
    east = Math.max(east, x);
    south = Math.min(south, y);
    north = Math.max(north, y);
  }
  return { corners, west, east, south, north };
}

/** The pieces without the shape; what it takes out of them is added to `taken`. */
function separated(
  pieces: readonly Boxed[],
  shape: Boxed & { readonly edges: readonly Edge[] },
  taken: Boxed[],
): Boxed[] {
  return pieces.flatMap((piece) => {
    if (!boxesMeet(piece, shape)) return [piece];
    const outside: ConvexShape[] = [];
    const inside = takeOut(piece.corners, shape.edges, outside);
    // Beside the shape a piece stays whole: its fragments would only slow what follows.
    if (convexAreaM2(inside) <= LEAST_PIECE_M2) return [piece];
    taken.push(boxed(inside));
    return outside.filter((left) => convexAreaM2(left) > LEAST_PIECE_M2).map(boxed);
  });
}

function boxesMeet(a: Boxed, b: Boxed): boolean {
  return a.west < b.east && b.west < a.east && a.south < b.north && b.south < a.north;
}
