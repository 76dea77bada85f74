import { convexCorners, type Footprint, footprintCorners } from './footprint.ts';
import { type LocalPolygon, localPolygon } from './local-polygon.ts';
import { type OrientedStrip, runsAcross } from './oriented-strip.ts';
import { type Corner, clipByHalfPlane, convexAreaM2, overlapAreaM2 } from './overlap.ts';

/**
 * A strip between its sides, drawn in by a margin, without its ends: what a pass has to stay within. `sides` are
 * lines [from, to] with the strip on their left. Strips that are not convex are kept whole as polygon, and their
 * margin is then not taken off.
 */
export type StripCore =
  | { readonly kind: 'betweenSides'; readonly sides: readonly (readonly [Corner, Corner])[] }
  | { readonly kind: 'whole'; readonly polygon: LocalPolygon };

export function stripCore(polygon: LocalPolygon, oriented: OrientedStrip, sideMarginM: number): StripCore {
  const corners = convexCorners(polygon);
  if (corners === null) return { kind: 'whole', polygon };
  const sides = corners.flatMap((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    return runsAcross(oriented, from, to) ? [] : [movedLeft(from, to, sideMarginM)];
  });
  return { kind: 'betweenSides', sides };
}

function movedLeft(from: Corner, to: Corner, byM: number): readonly [Corner, Corner] {
  const [east, north] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(east, north);
  if (length === 0) return [from, to];
  const [dx, dy] = [(-north / length) * byM, (east / length) * byM];
  return [
    [from[0] + dx, from[1] + dy],
    [to[0] + dx, to[1] + dy],
  ];
}

/** Share of a footprint's area that lies within the core, 0 to 1; NaN for a footprint without area. */
export function shareWithin(core: StripCore, footprint: Footprint): number {
  const corners = footprintCorners(footprint);
  if (core.kind === 'whole')
    return overlapAreaM2(localPolygon(corners), core.polygon) / convexAreaM2(corners);
  let rest = corners;
  for (const [from, to] of core.sides) if (rest.length > 2) rest = clipByHalfPlane(rest, from, to);
  return convexAreaM2(rest) / convexAreaM2(corners);
}
