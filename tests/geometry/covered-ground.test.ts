import polygonClipping, { type MultiPolygon, type Pair, type Polygon } from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { type ConvexShape, convexPieces } from '../../src/geometry/convex-pieces.ts';
import { areaAlong, areaOf, coverGround, withinSides } from '../../src/geometry/covered-ground.ts';
import { footprintCorners } from '../../src/geometry/footprint.ts';
import {
  type LocalPolygon,
  localPolygon,
  polygonAreaM2,
  polygonContains,
} from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import { orientedStrip } from '../../src/geometry/oriented-strip.ts';
import { convexOverlapAreaM2 } from '../../src/geometry/overlap.ts';
import { type SeededRandom, seededRandom } from '../simulator/seeded-random.ts';
import { rectangle, starPolygon, turned } from './polygons-at-random.ts';

/** The long form: `COVERED_STRIPS=3000 npx vitest run tests/geometry/covered-ground.test.ts`. */
const STRIPS = Number(process.env.COVERED_STRIPS ?? 150);

/** Oracle: shapes by polygon-clipping 0.15.7, areas by the shoelace formula about the first corner. */
function oracleAreaM2(shape: MultiPolygon): number {
  const ring = (corners: readonly Pair[]) => {
    const [x0, y0] = corners[0] ?? [0, 0];
    const doubled = corners.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = corners[(i + 1) % corners.length]!;
      return sum + (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0);
    }, 0);
    return Math.abs(doubled) / 2;
  };
  return shape.reduce(
    (sum, [outline, ...holes]) =>
      sum + ring(outline ?? []) - holes.reduce((inner, hole) => inner + ring(hole), 0),
    0,
  );
}

const asOracle = (shape: ConvexShape): Polygon => [shape.map(([x, y]): Pair => [x, y])];
/** null where polygon-clipping stops with an error of its own ("Unable to complete output ring"), as it does now and then. */
function oracleCover(outline: readonly LocalPosition[], shapes: readonly ConvexShape[]) {
  const field: Polygon = [outline.map(([x, y]): Pair => [x, y])];
  const within = (all: readonly (Polygon | MultiPolygon)[]) => {
    const [first, ...others] = all;
    if (first === undefined) return 0;
    return oracleAreaM2(polygonClipping.intersection(field, polygonClipping.union(first, ...others)));
  };
  const pairs = shapes.flatMap((a, i) => shapes.slice(i + 1).map((b) => [asOracle(a), asOracle(b)] as const));
  try {
    const doubled = pairs
      .map(([a, b]) => polygonClipping.intersection(a, b))
      .filter((shape) => shape.length > 0);
    return { coveredM2: within(shapes.map(asOracle)), twiceM2: within(doubled) };
  } catch (error) {
    if (error instanceof Error && error.message.startsWith('Unable to')) return null;
    throw error;
  }
}

const swath = (random: SeededRandom, spread = 60): ConvexShape =>
  footprintCorners({
    eastM: random.between(-12, 12),
    northM: random.between(-spread, spread),
    headingDegrees: random.between(0, 360),
    widthM: random.between(3, 14),
    lengthM: random.between(0.5, 30),
  });

function coveredShares(ground: readonly ConvexShape[], shapes: readonly ConvexShape[]) {
  const { areaM2, bare, once, more } = coverGround(ground, shapes);
  const [bareM2, onceM2, twiceM2] = [areaOf(bare), areaOf(once), areaOf(more)];
  return { areaM2, bareM2, onceM2, coveredM2: onceM2 + twiceM2, twiceM2 };
}

describe('covered ground', () => {
  it('agrees with polygon-clipping on swaths at random over a strip or a star', () => {
    const random = seededRandom(401);
    let [covered, twice, withoutOracle] = [0, 0, 0];
    for (let n = 0; n < STRIPS; n++) {
      const outline = random.chance(0.5)
        ? turned(rectangle(-6, -50, 12, 100), random.between(0, 360))
        : starPolygon(random, 9, [0, 0]);
      const ground = convexPieces(localPolygon(outline)) ?? [];
      const shapes = Array.from({ length: 6 }, () => swath(random));
      const found = coveredShares(ground, shapes);
      const expected = oracleCover(outline, shapes);
      if (expected === null) {
        withoutOracle += 1;
        continue;
      }
      expect(Math.abs(found.coveredM2 - expected.coveredM2)).toBeLessThan(1e-9);
      expect(Math.abs(found.twiceM2 - expected.twiceM2)).toBeLessThan(1e-9);
      if (expected.coveredM2 > 1) covered += 1;
      if (expected.twiceM2 > 1) twice += 1;
    }
    // The random cases must have something to find, and the oracle must have nearly always known.
    expect([covered > STRIPS / 2, twice > STRIPS / 4]).toEqual([true, true]);
    expect(withoutOracle).toBeLessThanOrEqual(STRIPS / 50);
  });

  it('and ground left bare add up to the ground within 1e-9 m², and no bare piece lies under a swath', () => {
    const random = seededRandom(402);
    for (let n = 0; n < STRIPS; n++) {
      const outline = turned(rectangle(-6, -50, 12, 100), random.between(0, 360));
      const ground = convexPieces(localPolygon(outline)) ?? [];
      const shapes = Array.from({ length: 30 }, () => swath(random));
      const { bare, once, more } = coverGround(ground, shapes);
      const sum = areaOf(bare) + areaOf(once) + areaOf(more);
      expect(Math.abs(sum - polygonAreaM2(localPolygon(outline)))).toBeLessThan(1e-9);
      const under = bare.flatMap((piece) => shapes.map((shape) => convexOverlapAreaM2(piece, shape)));
      expect(Math.max(0, ...under)).toBeLessThan(1e-9);
    }
  });

  it('does not depend on the order of swaths, nor on a swath being split in two', () => {
    const random = seededRandom(403);
    for (let n = 0; n < STRIPS; n++) {
      const ground = convexPieces(localPolygon(turned(rectangle(-6, -50, 12, 100), 33))) ?? [];
      const wholes = Array.from({ length: 5 }, () => ({
        eastM: random.between(-8, 8),
        northM: random.between(-50, 50),
        headingDegrees: random.between(0, 360),
        widthM: random.between(3, 12),
        lengthM: random.between(2, 30),
      }));
      const split = wholes.flatMap((whole) => {
        const share = random.between(0.1, 0.9);
        const heading = (whole.headingDegrees * Math.PI) / 180;
        const backM = share * whole.lengthM;
        const rear = {
          ...whole,
          eastM: whole.eastM - backM * Math.sin(heading),
          northM: whole.northM - backM * Math.cos(heading),
          lengthM: whole.lengthM - backM,
        };
        return [{ ...whole, lengthM: backM }, rear];
      });
      const one = coveredShares(ground, wholes.map(footprintCorners));
      const reversed = coveredShares(ground, wholes.toReversed().map(footprintCorners));
      const two = coveredShares(ground, split.map(footprintCorners));
      for (const other of [reversed, two]) {
        expect(Math.abs(other.coveredM2 - one.coveredM2)).toBeLessThan(1e-9);
        expect(Math.abs(other.twiceM2 - one.twiceM2)).toBeLessThan(1e-9);
      }
    }
  });

  it('turns with the field', () => {
    const random = seededRandom(404);
    for (let n = 0; n < STRIPS; n++) {
      const shapes = Array.from({ length: 8 }, () => swath(random));
      const outline = rectangle(-6, -50, 12, 100);
      const degrees = random.between(0, 360);
      const turn = (shape: ConvexShape) => turned(shape as LocalPosition[], degrees, [3, 4]);
      const straight = coveredShares([outline], shapes);
      const around = coveredShares([turn(outline)], shapes.map(turn));
      expect(Math.abs(around.coveredM2 - straight.coveredM2)).toBeLessThan(1e-9);
      expect(Math.abs(around.twiceM2 - straight.twiceM2)).toBeLessThan(1e-9);
    }
  });
});

describe('convex pieces', () => {
  it('of a star, and of one with a hole, add up to its area and lie in it', () => {
    const random = seededRandom(405);
    for (let n = 0; n < 150; n++) {
      const outline = starPolygon(random, 11, [random.between(-99, 99), 40]);
      const hole = outline.map(([x, y]): LocalPosition => {
        const [cx, cy] = [outline.reduce((sum, [own]) => sum + own, 0) / 11, 40];
        return [cx + (x - cx) * 0.05, cy + (y - cy) * 0.05];
      });
      for (const polygon of [
        localPolygon(outline),
        [[Float64Array.from(outline.flat()), Float64Array.from(hole.flat())]] as LocalPolygon,
      ]) {
        const pieces = convexPieces(polygon) ?? [];
        expect(areaOf(pieces)).toBeCloseTo(polygonAreaM2(polygon), 6);
        // Each place in the polygon lies in exactly one piece, each place beside it in none.
        for (let at = 0; at < 60; at++) {
          const [x, y] = [random.between(-220, 220), random.between(-90, 170)];
          const holding = pieces.filter((piece) => polygonContains(localPolygon(piece), x, y));
          expect(holding.length).toBe(polygonContains(polygon, x, y) ? 1 : 0);
        }
      }
    }
  });

  it('are refused of an outline that crosses itself', () => {
    const bow = localPolygon([
      [0, 0],
      [10, 10],
      [10, 0],
      [0, 10],
    ]);
    expect(convexPieces(bow)).toBeNull();
  });
});

describe('area along a strip', () => {
  it('adds up to the pieces, and stands in the slice where it lies', () => {
    const random = seededRandom(406);
    for (let n = 0; n < 40; n++) {
      const degrees = random.between(0, 360);
      const strip = orientedStrip(localPolygon(turned(rectangle(-6, -50, 12, 100), degrees)));
      const southM = random.between(-50, 40);
      const piece = turned(rectangle(-6, southM, 12, 7), degrees);
      const slices = areaAlong([piece], strip, { fromM: -50, stepM: 1, count: 100 });
      expect(slices.reduce((sum, area) => sum + area, 0)).toBeCloseTo(84, 9);
      // The axis runs north, or east: a turn of more than a quarter looks along the strip from its other end.
      const isFlipped = Math.cos((degrees * Math.PI) / 180) < 0;
      const middle = isFlipped ? -(southM + 3.5) : southM + 3.5;
      expect(slices[Math.floor(middle + 50)]).toBeCloseTo(12, 9);
      expect(slices.filter((area) => area > 0).length).toBeLessThanOrEqual(8);
    }
  });

  it('is cut by sides', () => {
    const square = rectangle(0, 0, 10, 10);
    // Left of a line running north lies its west.
    expect(
      areaOf(
        withinSides(
          [square],
          [
            [
              [4, 0],
              [4, 10],
            ],
          ],
        ),
      ),
    ).toBeCloseTo(40, 12);
  });
});
