import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { localPolygon, polygonCentroid, polygonContains } from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import { polygonFinder } from '../../src/geometry/polygon-finder.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { rectangle, starPolygon, turned } from './polygons-at-random.ts';

describe('which strip holds a point', () => {
  it('gives a point on a shared edge to exactly one strip, to the one east of it', () => {
    const strips = [0, 12, 24].map((west) => localPolygon(rectangle(west, 0, 12, 300)));
    const find = polygonFinder(strips);
    for (const northM of [0, 0.1, 150, 299.9]) {
      expect(find(12, northM)).toBe(1);
      expect(find(24, northM)).toBe(2);
      expect(strips.filter((strip) => polygonContains(strip, 12, northM)).length).toBe(1);
    }
    expect(find(0, 100)).toBe(0);
    expect(find(36, 100)).toBe(-1);
  });

  it('gives a point on an edge that runs east-west to the strip north of it', () => {
    const strips = [0, 12].map((south) => localPolygon(rectangle(0, south, 300, 12)));
    expect(polygonFinder(strips)(150, 12)).toBe(1);
    expect(polygonFinder(strips)(150, 24)).toBe(-1);
  });

  it('leaves no point of a tiling to two strips or to none, slanted edges and corners too', () => {
    const random = seededRandom(21);
    for (let n = 0; n < 20; n++) {
      // A grid with its inner corners moved: neighbours share edges corner for corner.
      const corner = (i: number, j: number): LocalPosition =>
        i % 4 === 0 || j % 4 === 0 ? [10 * i, 10 * j] : [10 * i + shift(i, j), 10 * j + shift(j, i)];
      const shifts = Array.from({ length: 25 }, () => random.between(-3, 3));
      const shift = (i: number, j: number) => shifts[5 * i + j]!;
      const cells = Array.from({ length: 16 }, (_, c) => {
        const [i, j] = [c % 4, Math.floor(c / 4)];
        return localPolygon([corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1)]);
      });
      const owners = (x: number, y: number) => cells.filter((cell) => polygonContains(cell, x, y)).length;
      for (let i = 1; i < 4; i++) {
        for (let j = 1; j < 4; j++) {
          const [a, b] = [corner(i, j), corner(i + 1 > 3 ? i - 1 : i + 1, j)];
          expect(owners(...a)).toBe(1);
          for (const share of [0.1, 0.25, 0.5, random.uniform()]) {
            expect(owners(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))).toBe(1);
          }
        }
      }
    }
  });

  it('lets the first of overlapping strips take the point, and holes hold nothing', () => {
    const a = localPolygon(rectangle(0, 0, 12, 100));
    const b = localPolygon(rectangle(8, 0, 12, 100));
    expect(polygonFinder([a, b])(10, 50)).toBe(0);
    expect(polygonFinder([b, a])(10, 50)).toBe(0);
    expect(polygonFinder([null, b])(10, 50)).toBe(1);
    expect(polygonFinder([null])(10, 50)).toBe(-1);
    const holed = [[...a[0]!, Float64Array.from(rectangle(4, 40, 4, 20).flat())]];
    expect(polygonContains(holed, 6, 50)).toBe(false);
    expect(polygonContains(holed, 2, 50)).toBe(true);
  });

  it('agrees with polygon-clipping: a point is inside when a small square about it is', () => {
    const random = seededRandom(22);
    let inside = 0;
    for (let n = 0; n < 300; n++) {
      const shape = starPolygon(random, 9, [0, 0]);
      const [x, y] = [random.between(-100, 100), random.between(-100, 100)];
      const square = rectangle(x - 1e-4, y - 1e-4, 2e-4, 2e-4);
      const shared = polygonClipping.intersection(
        [shape.map(([a, b]): [number, number] => [a, b])],
        [square.map(([a, b]): [number, number] => [a, b])],
      );
      if (shared.length > 0) inside += 1;
      expect(polygonContains(localPolygon(shape), x, y)).toBe(shared.length > 0);
    }
    expect(inside).toBeGreaterThan(50);
  });
});

describe('centroid', () => {
  it('of a turned rectangle is its middle, of an L its parts weighed by area', () => {
    const [x, y] = polygonCentroid(localPolygon(turned(rectangle(100, 200, 12, 300), 37, [106, 350])));
    expect(x).toBeCloseTo(106, 9);
    expect(y).toBeCloseTo(350, 9);
    // Law of moments: (0..4)x(0..1) and (0..1)x(1..3): x = (4*2 + 2*0.5)/6, y = (4*0.5 + 2*2)/6.
    const corner = localPolygon([
      [0, 0],
      [4, 0],
      [4, 1],
      [1, 1],
      [1, 3],
      [0, 3],
    ]);
    const [lx, ly] = polygonCentroid(corner);
    expect(lx).toBeCloseTo(9 / 6, 12);
    expect(ly).toBeCloseTo(1, 12);
  });
});
