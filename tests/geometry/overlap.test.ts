import polygonClipping, { type MultiPolygon, type Pair } from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { type LocalPolygon, localPolygon, polygonAreaM2 } from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import { overlapAreaM2 } from '../../src/geometry/overlap.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { rectangle, starPolygon, turned } from './polygons-at-random.ts';

/** Oracle: polygon-clipping 0.15.7 for the shared shape, the shoelace formula for its area. */
function oracleAreaM2(shape: MultiPolygon): number {
  const ring = (corners: readonly Pair[]) =>
    Math.abs(
      corners.reduce((sum, [x, y], i) => {
        const [nextX, nextY] = corners[(i + 1) % corners.length]!;
        return sum + x * nextY - nextX * y;
      }, 0) / 2,
    );
  return shape.reduce((sum, [outline, ...holes]) => {
    const taken = holes.reduce((inner, hole) => inner + ring(hole), 0);
    return sum + ring(outline ?? []) - taken;
  }, 0);
}

const pairs = (corners: readonly LocalPosition[]): Pair[] => corners.map(([x, y]) => [x, y]);
const withHole = (outline: readonly LocalPosition[], hole: readonly LocalPosition[]): LocalPolygon => [
  [Float64Array.from(outline.flat()), Float64Array.from(hole.flat())],
];

describe('area and overlap', () => {
  it('agree with polygon-clipping on strips at random', () => {
    const random = seededRandom(11);
    let meeting = 0;
    for (let n = 0; n < 300; n++) {
      const strip = () =>
        turned(
          rectangle(random.between(-20, 20), random.between(-200, 0), random.between(3, 30), 300),
          random.between(0, 360),
        );
      const [a, b] = [strip(), strip()];
      const expected = oracleAreaM2(polygonClipping.intersection([pairs(a)], [pairs(b)]));
      if (expected > 0) meeting += 1;
      expect(overlapAreaM2(localPolygon(a), localPolygon(b))).toBeCloseTo(expected, 6);
    }
    expect(meeting).toBeGreaterThan(100);
  });

  it('agree with polygon-clipping on shapes that are not convex, and with holes', () => {
    const random = seededRandom(12);
    for (let n = 0; n < 200; n++) {
      const a = starPolygon(random, 9, [0, 0]);
      const b = starPolygon(random, 7, [random.between(-80, 80), random.between(-80, 80)]);
      const hole = starPolygon(random, 5, [0, 0]).map(([x, y]): LocalPosition => [x / 8, y / 8]);
      const expected = oracleAreaM2(polygonClipping.intersection([pairs(a)], [pairs(b)]));
      expect(overlapAreaM2(localPolygon(a), localPolygon(b))).toBeCloseTo(expected, 6);
      const holed = polygonClipping.difference([pairs(a)], [pairs(hole)]);
      const isHoleInside = oracleAreaM2(polygonClipping.difference([pairs(hole)], [pairs(a)])) === 0;
      if (!isHoleInside) continue;
      expect(polygonAreaM2(withHole(a, hole))).toBeCloseTo(oracleAreaM2(holed), 6);
      const shared = oracleAreaM2(polygonClipping.intersection(holed, [pairs(b)]));
      expect(overlapAreaM2(withHole(a, hole), localPolygon(b))).toBeCloseTo(shared, 6);
    }
  });

  it('of a shape with itself is its area, whichever way its ring runs', () => {
    const random = seededRandom(13);
    for (let n = 0; n < 50; n++) {
      const corners = starPolygon(random, 8, [random.between(-1e5, 1e5), random.between(-1e5, 1e5)]);
      const forward = localPolygon(corners);
      const backward = localPolygon(corners.toReversed());
      const area = polygonAreaM2(forward);
      expect(polygonAreaM2(backward)).toBeCloseTo(area, 6);
      expect(overlapAreaM2(forward, backward)).toBeCloseTo(area, 5);
    }
  });

  it('of strips that share an edge is nought', () => {
    expect(
      overlapAreaM2(localPolygon(rectangle(0, 0, 12, 300)), localPolygon(rectangle(12, 0, 12, 300))),
    ).toBe(0);
  });
});
