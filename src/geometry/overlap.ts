import { type LocalPolygon, type LocalRing, polygonBox } from './local-polygon.ts';

/**
 * How much ground do two polygons share, in m²? Holes and several parts are allowed, convexity is not needed.
 *
 * Each ring is fanned into triangles with a sign (outlines count once, holes against them), and the triangles are
 * clipped pairwise by half-planes (Sutherland & Hodgman 1974, Commun. ACM 17:32-42): the indicator of a polygon is
 * the signed sum of those of its fan, so the signed areas add up to the overlap exactly but for rounding.
 */
export function overlapAreaM2(a: LocalPolygon, b: LocalPolygon): number {
  if (!boxesMeet(a, b)) return 0;
  const origin: Corner = [a[0]?.[0]?.[0] ?? 0, a[0]?.[0]?.[1] ?? 0];
  const trianglesA = fan(a, origin);
  const trianglesB = fan(b, origin);
  let area = 0;
  for (const one of trianglesA) {
    for (const other of trianglesB) {
      area += one.sign * other.sign * convexOverlapAreaM2(one.corners, other.corners);
    }
  }
  return Math.max(0, area);
}

/** East and north in local metres. */
export type Corner = readonly [eastM: number, northM: number];

interface SignedTriangle {
  readonly sign: 1 | -1;
  readonly corners: readonly Corner[];
}

/** Area that two convex shapes share; corners counter-clockwise. */
export function convexOverlapAreaM2(subject: readonly Corner[], clip: readonly Corner[]): number {
  let rest = subject;
  for (let i = 0; i < clip.length && rest.length > 2; i++) {
    rest = clipByHalfPlane(rest, clip[i]!, clip[(i + 1) % clip.length]!);
  }
  return convexAreaM2(rest);
}

/** Corners counter-clockwise; 0 for fewer than three. */
export function convexAreaM2(corners: readonly Corner[]): number {
  return corners.length > 2 ? doubledArea(corners) / 2 : 0;
}

/** What of a convex shape lies left of the line from `from` to `to`. */
export function clipByHalfPlane(corners: readonly Corner[], from: Corner, to: Corner): Corner[] {
  const side = (p: Corner) => (to[0] - from[0]) * (p[1] - from[1]) - (to[1] - from[1]) * (p[0] - from[0]);
  const kept: Corner[] = [];
  for (let i = 0; i < corners.length; i++) {
    const here = corners[i]!;
    const next = corners[(i + 1) % corners.length]!;
    const sideHere = side(here);
    const sideNext = side(next);
    if (sideHere >= 0) kept.push(here);
    if (sideHere * sideNext < 0) {
      const share = sideHere / (sideHere - sideNext);
      kept.push([here[0] + share * (next[0] - here[0]), here[1] + share * (next[1] - here[1])]);
    }
  }
  return kept;
}

function doubledArea(corners: readonly Corner[]): number {
  const [x0, y0] = corners[0]!;
  let doubled = 0;
  for (let i = 1; i + 1 < corners.length; i++) {
    const [ax, ay] = corners[i]!;
    const [bx, by] = corners[i + 1]!;
    doubled += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
  }
  return doubled;
}

function fan(polygon: LocalPolygon, origin: Corner): SignedTriangle[] {
  return polygon.flatMap((part) => part.flatMap((ring, index) => ringFan(ring, origin, index > 0)));
}

function ringFan(ring: LocalRing, [x0, y0]: Corner, isHole: boolean): SignedTriangle[] {
  const corners: Corner[] = [];
  for (let i = 0; i < ring.length; i += 2) corners.push([ring[i]! - x0, ring[i + 1]! - y0]);
  if (corners.length < 3) return [];
  const first = corners[0]!;
  const runsClockwise = doubledArea(corners) < 0;
  const outward = runsClockwise === isHole ? 1 : -1;
  const triangles: SignedTriangle[] = [];
  for (let i = 1; i + 1 < corners.length; i++) {
    const triangle = [first, corners[i]!, corners[i + 1]!] as const;
    const doubled = doubledArea(triangle);
    if (doubled === 0) continue;
    triangles.push(
      doubled > 0
        ? { sign: outward, corners: triangle }
        : { sign: outward === 1 ? -1 : 1, corners: [triangle[0], triangle[2], triangle[1]] },
    );
  }
  return triangles;
}

function boxesMeet(a: LocalPolygon, b: LocalPolygon): boolean {
  const boxA = polygonBox(a);
  const boxB = polygonBox(b);
  return (
    boxA.minEastM < boxB.maxEastM &&
    boxB.minEastM < boxA.maxEastM &&
    boxA.minNorthM < boxB.maxNorthM &&
    boxB.minNorthM < boxA.maxNorthM
  );
}
