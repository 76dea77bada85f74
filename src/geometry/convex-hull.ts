import type { LocalRing } from './local-polygon.ts';
import type { LocalPosition } from './local-projection.ts';

/**
 * The smallest convex ring around the corners of some rings, counter-clockwise, without repeated corners.
 * Source: A. M. Andrew (1979) Inf. Process. Lett. 9:216-219 (monotone chain).
 */
export function convexHull(rings: readonly LocalRing[]): readonly LocalPosition[] {
  const corners: LocalPosition[] = rings.flatMap((ring) =>
    Array.from({ length: ring.length / 2 }, (_, i): LocalPosition => [ring[2 * i]!, ring[2 * i + 1]!]),
  );
  corners.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const lower = halfHull(corners);
  const upper = halfHull(corners.toReversed());
  const hull = [...lower.slice(0, -1), ...upper.slice(0, -1)];
  return hull.length > 0 ? hull : corners.slice(0, 1);
}

function halfHull(corners: readonly LocalPosition[]): LocalPosition[] {
  const chain: LocalPosition[] = [];
  for (const corner of corners) {
    while (chain.length > 1 && !turnsLeft(chain.at(-2)!, chain.at(-1)!, corner)) chain.pop();
    chain.push(corner);
  }
  return chain;
}

function turnsLeft(a: LocalPosition, b: LocalPosition, c: LocalPosition): boolean {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0;
}
