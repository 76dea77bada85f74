import { convexHull } from './convex-hull.ts';
import { type EdgeOfStrip, withoutJoints } from './joints.ts';
import type { LocalPolygon, LocalRing } from './local-polygon.ts';
import type { LocalPosition } from './local-projection.ts';

/**
 * A strip with an axis of its own: the long side of its rectangle of least area. `along` runs north (east, where
 * the axis is exactly east-west), `across` a quarter turn to the right of it; both are counted from the rectangle's
 * centre, in metres.
 */
export interface OrientedStrip {
  readonly centreEastM: number;
  readonly centreNorthM: number;
  /** Unit vector of the axis. */
  readonly alongEast: number;
  readonly alongNorth: number;
  readonly lengthM: number;
  /** Median width over nine stations along the strip, so that slanted ends and a bend do not widen it. */
  readonly widthM: number;
  /** Edges that close the strip's ends and its sides, but not where two of its parts touch, as along, across, along, across of both ends. */
  readonly endEdges: Float64Array;
  readonly sideEdges: Float64Array;
}

export function orientedStrip(polygon: LocalPolygon): OrientedStrip {
  return orientedIn(polygon, leastRectangle(hullOf(polygon)));
}

/** The same with a known axis, for ground in several parts whose rectangle need not lie along them. */
export function orientedStripAlong(polygon: LocalPolygon, [east, north]: LocalPosition): OrientedStrip {
  const sign = pointsBack(east, north) ? -1 : 1;
  return orientedIn(polygon, boxAlong(hullOf(polygon), sign * east, sign * north));
}

function hullOf(polygon: LocalPolygon): readonly LocalPosition[] {
  return convexHull(polygon.map((part) => part[0] ?? new Float64Array(0)));
}

function orientedIn(polygon: LocalPolygon, box: Rectangle): OrientedStrip {
  const frame = {
    centreEastM: box.centre[0],
    centreNorthM: box.centre[1],
    alongEast: box.along[0],
    alongNorth: box.along[1],
  };
  const edges = sortEdges(polygon, frame);
  const widthM = medianWidth(edges.all, box.lengthM) ?? box.widthM;
  return { ...frame, lengthM: box.lengthM, widthM, endEdges: edges.end, sideEdges: edges.side };
}

type StripFrame = Pick<OrientedStrip, 'centreEastM' | 'centreNorthM' | 'alongEast' | 'alongNorth'>;

export function alongM(strip: StripFrame, eastM: number, northM: number): number {
  return (eastM - strip.centreEastM) * strip.alongEast + (northM - strip.centreNorthM) * strip.alongNorth;
}

export function acrossM(strip: StripFrame, eastM: number, northM: number): number {
  return (eastM - strip.centreEastM) * strip.alongNorth - (northM - strip.centreNorthM) * strip.alongEast;
}

/**
 * Way from a point in the strip to its nearer end, driving along the axis. An edge is an end when it runs more
 * across than along; where no end lies ahead (a strip that runs to a point) the rectangle's end counts.
 */
export function distanceToEndM(strip: OrientedStrip, along: number, across: number): number {
  return nearestEdge(strip.endEdges, 0, along, across) ?? strip.lengthM / 2 - Math.abs(along);
}

/** Way from a point in the strip to its nearer side, straight across the axis. Holes have sides and ends too. */
export function distanceToSideM(strip: OrientedStrip, along: number, across: number): number {
  return nearestEdge(strip.sideEdges, 1, along, across) ?? strip.widthM / 2 - Math.abs(across);
}

/**
 * Where a point lies between the strip's sides, as a share of the way from the left one (0) to the right one (1),
 * looking along the axis; below 0 or above 1 beside the strip. NaN where no two sides lie at that place along it.
 */
export function shareAcross(strip: OrientedStrip, along: number, across: number): number {
  const edges = strip.sideEdges;
  let left = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < edges.length; i += 4) {
    const a1 = edges[i]!;
    const a2 = edges[i + 2]!;
    if (along < Math.min(a1, a2) || along > Math.max(a1, a2) || a1 === a2) continue;
    const crossing = edges[i + 1]! + ((along - a1) / (a2 - a1)) * (edges[i + 3]! - edges[i + 1]!);
    left = Math.min(left, crossing);
    right = Math.max(right, crossing);
  }
  return right > left ? (across - left) / (right - left) : Number.NaN;
}

/** Does an edge run more across the strip than along it? Such edges close its ends, the others its sides. */
export function runsAcross(strip: StripFrame, from: LocalPosition, to: LocalPosition): boolean {
  const along = (to[0] - from[0]) * strip.alongEast + (to[1] - from[1]) * strip.alongNorth;
  const across = (to[0] - from[0]) * strip.alongNorth - (to[1] - from[1]) * strip.alongEast;
  return Math.abs(across) > Math.abs(along);
}

/** Distance along one coordinate (0 along, 1 across) to the nearest edge crossed, either way. */
function nearestEdge(edges: Float64Array, moving: 0 | 1, along: number, across: number): number | null {
  const fixed = 1 - moving;
  const at = moving === 0 ? across : along;
  const from = moving === 0 ? along : across;
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < edges.length; i += 4) {
    const f1 = edges[i + fixed]!;
    const f2 = edges[i + 2 + fixed]!;
    if (at < Math.min(f1, f2) || at > Math.max(f1, f2) || f1 === f2) continue;
    const m1 = edges[i + moving]!;
    const crossing = m1 + ((at - f1) / (f2 - f1)) * (edges[i + 2 + moving]! - m1);
    nearest = Math.min(nearest, Math.abs(crossing - from));
  }
  return nearest === Number.POSITIVE_INFINITY ? null : nearest;
}

interface Rectangle {
  readonly centre: LocalPosition;
  readonly along: LocalPosition;
  readonly lengthM: number;
  readonly widthM: number;
}

/** One side of the least rectangle lies along an edge of the hull (Freeman & Shapira 1975, Commun. ACM 18:409-413). */
function leastRectangle(hull: readonly LocalPosition[]): Rectangle {
  let least: Rectangle | null = null;
  let leastArea = Number.POSITIVE_INFINITY;
  hull.forEach((from, i) => {
    const to = hull[(i + 1) % hull.length]!;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length === 0) return;
    const box = rectangleAlong(hull, (to[0] - from[0]) / length, (to[1] - from[1]) / length);
    // A tie keeps the earlier edge unless it is beaten beyond rounding.
    if (box.lengthM * box.widthM >= leastArea * (1 - 1e-9)) return;
    leastArea = box.lengthM * box.widthM;
    least = box;
  });
  const centre = hull[0] ?? [0, 0];
  return least ?? { centre, along: [0, 1], lengthM: 0, widthM: 0 };
}

/** The rectangle around the hull with one side along an edge; its long side is the axis. */
function rectangleAlong(hull: readonly LocalPosition[], ux: number, uy: number): Rectangle {
  const box = boxAlong(hull, ux, uy);
  const isLong = box.lengthM >= box.widthM;
  const axis: LocalPosition = isLong ? [ux, uy] : [uy, -ux];
  return {
    centre: box.centre,
    along: pointsBack(...axis) ? [-axis[0], -axis[1]] : axis,
    lengthM: isLong ? box.lengthM : box.widthM,
    widthM: isLong ? box.widthM : box.lengthM,
  };
}

function boxAlong(hull: readonly LocalPosition[], ux: number, uy: number): Rectangle {
  const us = hull.map(([x, y]) => x * ux + y * uy);
  const vs = hull.map(([x, y]) => x * uy - y * ux);
  const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)];
  const [u, v] = [(u0 + u1) / 2, (v0 + v1) / 2];
  const centre: LocalPosition = [u * ux + v * uy, u * uy - v * ux];
  return { centre, along: [ux, uy], lengthM: u1 - u0, widthM: v1 - v0 };
}

/** An axis runs north, or east where it is exactly east-west. */
function pointsBack(east: number, north: number): boolean {
  return north < 0 || (north === 0 && east < 0);
}

function sortEdges(
  polygon: LocalPolygon,
  frame: StripFrame,
): { all: number[]; end: Float64Array; side: Float64Array } {
  const parts = polygon.map((part) => part.flatMap((ring) => edgesOf(ring, frame)));
  const isEnd = ([a1, c1, a2, c2]: EdgeOfStrip) => Math.abs(c2 - c1) > Math.abs(a2 - a1);
  const end = withoutJoints(
    parts.map((edges) => edges.filter(isEnd)),
    true,
  );
  const side = withoutJoints(
    parts.map((edges) => edges.filter((edge) => !isEnd(edge))),
    false,
  );
  return {
    all: parts.flat(2),
    end: Float64Array.from(end.flat()),
    side: Float64Array.from(side.flat()),
  };
}

function edgesOf(ring: LocalRing, frame: StripFrame): EdgeOfStrip[] {
  const corners = Array.from({ length: ring.length / 2 }, (_, k): LocalPosition => {
    const [east, north] = [ring[2 * k]!, ring[2 * k + 1]!];
    return [alongM(frame, east, north), acrossM(frame, east, north)];
  });
  return corners.map((from, k) => [...from, ...corners[(k + 1) % corners.length]!]);
}

/** Width at nine stations between a tenth and nine tenths of the length; null where none is cut. */
function medianWidth(edges: readonly number[], lengthM: number): number | null {
  const widths: number[] = [];
  for (let station = 1; station <= 9; station++) {
    const width = chordM(edges, (station / 10 - 0.5) * lengthM);
    if (width > 0) widths.push(width);
  }
  widths.sort((a, b) => a - b);
  return widths[Math.floor(widths.length / 2)] ?? null;
}

/** Length inside the polygon of the line across it at one place along it. */
function chordM(edges: readonly number[], along: number): number {
  const crossings: number[] = [];
  for (let i = 0; i < edges.length; i += 4) {
    const a1 = edges[i]!;
    const a2 = edges[i + 2]!;
    if (a1 > along === a2 > along) continue;
    const c1 = edges[i + 1]!;
    crossings.push(c1 + ((along - a1) / (a2 - a1)) * (edges[i + 3]! - c1));
  }
  crossings.sort((a, b) => a - b);
  let inside = 0;
  for (let i = 0; i + 1 < crossings.length; i += 2) inside += crossings[i + 1]! - crossings[i]!;
  return inside;
}
