import polygonClipping, { type MultiPolygon, type Pair } from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { convexCorners, footprintCorners, piecesOverPolygons } from '../../src/geometry/footprint.ts';
import { localPolygon } from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import { orientedStrip } from '../../src/geometry/oriented-strip.ts';
import { type Corner, convexAreaM2 } from '../../src/geometry/overlap.ts';
import { shareWithin, stripCore } from '../../src/geometry/strip-core.ts';
import { type SeededRandom, seededRandom } from '../simulator/seeded-random.ts';
import { rectangle, starPolygon, turned } from './polygons-at-random.ts';

/** The issue asks for 10,000 pairs: `FOOTPRINT_PAIRS=10000 npx vitest run tests/geometry/footprint.test.ts`. */
const PAIRS = Number(process.env.FOOTPRINT_PAIRS ?? 1000);

const pairs = (corners: readonly Corner[]): Pair[] => corners.map(([x, y]) => [x, y]);

/** Oracle: the shared shape from polygon-clipping 0.15.7, its area by the shoelace formula about its first corner. */
function oracleAreaM2(shape: MultiPolygon): number {
  return shape.reduce((sum, [outline]) => {
    const [x0, y0] = outline![0]!;
    const doubled = outline!.reduce((twice, [x, y], i) => {
      const [nextX, nextY] = outline![(i + 1) % outline!.length]!;
      return twice + (x - x0) * (nextY - y0) - (nextX - x0) * (y - y0);
    }, 0);
    return sum + Math.abs(doubled) / 2;
  }, 0);
}

function footprintAtRandom(random: SeededRandom, eastM: number, northM: number) {
  return {
    eastM,
    northM,
    headingDegrees: random.between(0, 360),
    widthM: random.between(3, 14),
    lengthM: random.between(0.2, 6),
  };
}

/** Strips side by side, some apart, all turned together; corners counter-clockwise. */
function stripsAtRandom(random: SeededRandom): LocalPosition[][] {
  const degrees = random.between(0, 360);
  let west = -40;
  return Array.from({ length: 6 }, () => {
    const width = random.between(5, 18);
    const strip = turned(rectangle(west, -150, width, 300), degrees);
    west += width + (random.chance(0.3) ? random.between(0, 3) : 0);
    return strip;
  });
}

describe('footprints over strips', () => {
  it('agree with polygon-clipping on each pair, and the pieces add up to the footprint', () => {
    const random = seededRandom(61);
    let crossing = 0;
    for (let n = 0; n < PAIRS; n++) {
      const strips = stripsAtRandom(random);
      const at = footprintAtRandom(random, random.between(-60, 60), random.between(-170, 170));
      const corners = footprintCorners(at);
      // Definition of a rectangle: width times length.
      const areaM2 = at.widthM * at.lengthM;
      expect(Math.abs(convexAreaM2(corners) - areaM2)).toBeLessThan(1e-9);
      const { insideM2, outsideM2 } = piecesOverPolygons(corners, strips);
      const sum = insideM2.reduce((total, piece) => total + piece, 0);
      expect(Math.abs(sum + outsideM2 - areaM2)).toBeLessThan(1e-9);
      const one = n % strips.length;
      const shared = oracleAreaM2(polygonClipping.intersection([pairs(corners)], [pairs(strips[one]!)]));
      expect(Math.abs(insideM2[one]! - shared)).toBeLessThan(1e-9);
      if (insideM2.some((piece) => piece > 0 && piece < areaM2 - 1e-9)) crossing += 1;
    }
    expect(crossing).toBeGreaterThan(PAIRS / 5);
  });

  it('count ground that two strips share once, to the first', () => {
    const square = rectangle(0, 0, 2, 2);
    const { insideM2, outsideM2 } = piecesOverPolygons(square, [
      rectangle(-1, -1, 2, 4),
      rectangle(0, 0, 1.5, 2),
    ]);
    expect(insideM2[0]).toBeCloseTo(2, 12);
    expect(insideM2[1]).toBeCloseTo(1, 12);
    expect(outsideM2).toBeCloseTo(1, 12);
  });

  it('lie behind the logged point', () => {
    const corners = footprintCorners({ eastM: 5, northM: 7, headingDegrees: 90, widthM: 4, lengthM: 3 });
    const [easts, norths] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    expect([Math.min(...easts), Math.max(...easts)].map((x) => Math.round(x * 1e9) / 1e9)).toEqual([2, 5]);
    expect([Math.min(...norths), Math.max(...norths)].map((y) => Math.round(y * 1e9) / 1e9)).toEqual([5, 9]);
  });
});

describe('the core of a strip', () => {
  const strip = turned(rectangle(0, 0, 12, 300), -25);
  const oriented = orientedStrip(localPolygon(strip));
  const share = (eastM: number, marginM: number, widthM = 9, northM = 150) => {
    const [[east, north]] = turned([[eastM, northM]], -25) as [LocalPosition];
    const footprint = { eastM: east, northM: north, headingDegrees: 25, widthM, lengthM: 2 };
    return shareWithin(stripCore(localPolygon(strip), oriented, marginM), footprint);
  };

  it('has the share of the header that lies between the sides drawn in by the margin', () => {
    // Analytic: header from x - 4.5 to x + 4.5, core from m to 12 - m.
    expect(share(6, 1)).toBeCloseTo(1, 12);
    expect(share(4, 1)).toBeCloseTo((8.5 - 1) / 9, 12);
    expect(share(2, 1)).toBeCloseTo((6.5 - 1) / 9, 12);
    expect(share(6, 1, 14)).toBeCloseTo(10 / 14, 12);
    expect(share(-6, 1)).toBe(0);
  });

  it('gives the same share wherever the field lies, however it is turned, and mirrored', () => {
    const random = seededRandom(62);
    for (let n = 0; n < 200; n++) {
      const [degrees, east, north] = [
        random.between(0, 360),
        random.between(-900, 900),
        random.between(-900, 900),
      ];
      const at = footprintAtRandom(random, random.between(-3, 15), random.between(20, 280));
      const shareOf = (corners: LocalPosition[], footprint: typeof at) => {
        const polygon = localPolygon(corners);
        return shareWithin(stripCore(polygon, orientedStrip(polygon), 0.7), footprint);
      };
      const plain = rectangle(0, 0, 12, 300);
      const move = (corners: LocalPosition[]) =>
        turned(corners, degrees).map(([x, y]): LocalPosition => [x + east, y + north]);
      const [[movedEast, movedNorth]] = move([[at.eastM, at.northM]]) as [LocalPosition];
      const expected = shareOf(plain, at);
      const moved = {
        ...at,
        eastM: movedEast,
        northM: movedNorth,
        headingDegrees: at.headingDegrees - degrees,
      };
      expect(Math.abs(shareOf(move(plain), moved) - expected)).toBeLessThan(1e-12);
      const mirrored = { ...at, eastM: -at.eastM, headingDegrees: -at.headingDegrees };
      const mirror = plain.map(([x, y]): LocalPosition => [-x, y]);
      expect(Math.abs(shareOf(mirror, mirrored) - expected)).toBeLessThan(1e-12);
    }
  });

  it('has no ends: those are for the end margin', () => expect(share(6, 1, 9, 1)).toBeCloseTo(1, 12));

  it('is the whole polygon, by general overlap, where the strip is not convex', () => {
    const bent = [...rectangle(0, 0, 12, 300).slice(0, 2), [12, 300], [0, 300], [2, 150]] as LocalPosition[];
    const polygon = localPolygon(bent);
    const core = stripCore(polygon, orientedStrip(polygon), 1);
    expect(core.kind).toBe('whole');
    const footprint = { eastM: 4.5, northM: 151, headingDegrees: 0, widthM: 9, lengthM: 2 };
    const oracle = polygonClipping.intersection([pairs(footprintCorners(footprint))], [pairs(bent)]);
    expect(shareWithin(core, footprint)).toBeCloseTo(oracleAreaM2(oracle) / 18, 9);
  });

  it('tells convex outlines from others, whichever way they run', () => {
    const square = rectangle(0, 0, 3, 3);
    for (const corners of [square, [...square].reverse()]) {
      expect(convexAreaM2(convexCorners(localPolygon(corners)) ?? [])).toBeCloseTo(9, 12);
    }
    expect(convexCorners(localPolygon(starPolygon(seededRandom(3), 9, [0, 0])))).toBeNull();
    const pentagram = [0, 2, 4, 1, 3].map((k): LocalPosition => {
      const angle = (2 * Math.PI * k) / 5;
      return [Math.cos(angle), Math.sin(angle)];
    });
    expect(convexCorners(localPolygon(pentagram))).toBeNull();
  });
});
