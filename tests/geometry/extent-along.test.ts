import { expect, it } from 'vitest';
import { extentAlong } from '../../src/geometry/extent-along.ts';
import { localPolygon } from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import { orientedStrip } from '../../src/geometry/oriented-strip.ts';
import { stretchOfStrip } from '../../src/geometry/stretch-of-strip.ts';

/** 12 m by 300 m, turned about its centre. */
function strip(degrees: number) {
  const turn = (degrees * Math.PI) / 180;
  const corners = [
    [-6, -150],
    [6, -150],
    [6, 150],
    [-6, 150],
  ] as const;
  return localPolygon(
    corners.map(
      ([e, n]): LocalPosition => [
        40 + e * Math.cos(turn) - n * Math.sin(turn),
        -70 + e * Math.sin(turn) + n * Math.cos(turn),
      ],
    ),
  );
}

it.each([0, 17, 45, 89, 133, 200])(
  'a stretch of a strip turned by %d degrees reaches over it as it was given',
  (degrees) => {
    // Law: from and to are counted from one end, the extent from the centre 150 m further.
    const polygon = strip(degrees);
    const oriented = orientedStrip(polygon);
    const extent = extentAlong(localPolygon(stretchOfStrip(oriented, 40, 95)), polygon, oriented);
    expect(extent?.fromM).toBeCloseTo(40 - 150, 8);
    expect(extent?.toM).toBeCloseTo(95 - 150, 8);
  },
);

it('an area beyond the strip’s end reaches to that end, one beside it not at all', () => {
  const polygon = strip(0);
  const oriented = orientedStrip(polygon);
  const beyond = extentAlong(localPolygon(stretchOfStrip(oriented, 280, 400)), polygon, oriented);
  expect(beyond?.fromM).toBeCloseTo(130, 8);
  expect(beyond?.toM).toBeCloseTo(150, 8);
  const beside = localPolygon([
    [46, -100],
    [60, -100],
    [60, 0],
    [46, 0],
  ]);
  expect(extentAlong(beside, polygon, oriented)).toBeNull();
});

it('of a triangle, the least and the greatest place of what lies within the strip', () => {
  // By hand: the strip is 34 <= east <= 46; the edge from (20, -80) to (60, -40) crosses its sides at north -66 and -54.
  const polygon = strip(0);
  const triangle = localPolygon([
    [20, -80],
    [60, -40],
    [20, -40],
  ]);
  const extent = extentAlong(triangle, polygon, orientedStrip(polygon));
  expect(extent?.fromM).toBeCloseTo(-66 + 70, 8);
  expect(extent?.toM).toBeCloseTo(-40 + 70, 8);
});
