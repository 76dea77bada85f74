import { describe, expect, it } from 'vitest';
import { localPolygon, polygonCentroid } from '../../src/geometry/local-polygon.ts';
import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import {
  acrossM,
  alongM,
  distanceToEndM,
  distanceToSideM,
  orientedStrip,
} from '../../src/geometry/oriented-strip.ts';
import { placesAcross } from '../../src/geometry/place-across.ts';
import { rectangle, turned } from './polygons-at-random.ts';

/** Distances in a plain rectangle are known by construction. */
describe('a strip with an axis of its own', () => {
  for (const degrees of [0, 12, 45, 90, 133, 270]) {
    it(`knows length, width and distances, turned by ${degrees} degrees`, () => {
      const strip = orientedStrip(localPolygon(turned(rectangle(40, 10, 12, 300), degrees)));
      expect(strip.lengthM).toBeCloseTo(300, 9);
      expect(strip.widthM).toBeCloseTo(12, 9);
      const [[x, y]] = turned([[43, 17]], degrees) as [LocalPosition];
      const [along, across] = [alongM(strip, x, y), acrossM(strip, x, y)];
      expect(distanceToSideM(strip, along, across)).toBeCloseTo(3, 9);
      expect(distanceToEndM(strip, along, across)).toBeCloseTo(7, 9);
    });
  }

  it('measures to a slanted end where the machine meets it', () => {
    // Parallelogram: the south end runs from (0, 0) to (12, 8); at x = 9 it lies at y = 6.
    const strip = orientedStrip(
      localPolygon([
        [0, 0],
        [12, 8],
        [12, 308],
        [0, 300],
      ]),
    );
    expect(strip.widthM).toBeCloseTo(12, 1);
    const [along, across] = [alongM(strip, 9, 30), acrossM(strip, 9, 30)];
    expect(distanceToEndM(strip, along, across)).toBeCloseTo(24, 6);
    expect(distanceToSideM(strip, along, across)).toBeCloseTo(3, 6);
  });

  it('does not take a bend for width', () => {
    const bent: LocalPosition[] = [
      [0, 0],
      [12, 0],
      [18, 150],
      [12, 300],
      [0, 300],
      [6, 150],
    ];
    expect(orientedStrip(localPolygon(bent)).widthM).toBeCloseTo(12, 6);
  });

  it('counts a hole as an end and a side', () => {
    const [outline] = localPolygon(rectangle(0, 0, 12, 300))[0]!;
    const strip = orientedStrip([[outline!, Float64Array.from(rectangle(4, 100, 4, 20).flat())]]);
    expect(distanceToEndM(strip, alongM(strip, 6, 90), acrossM(strip, 6, 90))).toBeCloseTo(10, 9);
    expect(distanceToSideM(strip, alongM(strip, 2.5, 110), acrossM(strip, 2.5, 110))).toBeCloseTo(1.5, 9);
  });
  it('counts neither an end nor a side where two parts of a strip touch', () => {
    const part = (x: number, y: number, width: number, length: number) =>
      localPolygon(rectangle(x, y, width, length))[0]!;
    const inFrame = (strip: ReturnType<typeof orientedStrip>, x: number, y: number) =>
      [alongM(strip, x, y), acrossM(strip, x, y)] as const;
    // Two lengths of 150 m, one behind the other, the joint digitised 2 cm apart.
    const behind = orientedStrip([part(0, 0, 12, 150), part(0, 150.02, 12, 149.98)]);
    expect(distanceToEndM(behind, ...inFrame(behind, 6, 149))).toBeCloseTo(149, 9);
    // The second a quarter narrower: beyond x = 9 the first does end at 150 m.
    const stepped = orientedStrip([part(0, 0, 12, 150), part(0, 150, 9, 150)]);
    expect(distanceToEndM(stepped, ...inFrame(stepped, 6, 149))).toBeCloseTo(149, 9);
    expect(distanceToEndM(stepped, ...inFrame(stepped, 11, 149))).toBeCloseTo(1, 9);
    // A gap of a metre is a gap; two halves side by side have no side between them.
    const apart = orientedStrip([part(0, 0, 12, 150), part(0, 151, 12, 149)]);
    expect(distanceToEndM(apart, ...inFrame(apart, 6, 149))).toBeCloseTo(1, 9);
    const beside = orientedStrip([part(0, 0, 6, 300), part(6, 0, 6, 300)]);
    expect(distanceToSideM(beside, ...inFrame(beside, 5, 100))).toBeCloseTo(5, 9);
  });
});

describe('place across the field', () => {
  const laid = (corners: readonly LocalPosition[]) => {
    const polygon = localPolygon(corners);
    return { centroid: polygonCentroid(polygon), oriented: orientedStrip(polygon) };
  };

  it('counts from the west whatever the order of the list and the direction of the field', () => {
    const order = [3, 0, 4, 1, 2];
    for (const degrees of [0, 20, -35, 80]) {
      const strips = order.map((k) => laid(turned(rectangle(12 * k, 0, 12, 300), degrees)));
      expect(placesAcross(strips)).toEqual(order.map((k) => k + 1));
    }
  });

  it('counts from the south where the strips run east-west, and strips end to end share a place', () => {
    const eastWest = [1, 0].map((k) => laid(rectangle(0, 12 * k, 300, 12)));
    expect(placesAcross(eastWest)).toEqual([2, 1]);
    const twoRanges = [0, 12].flatMap((x) => [0, 310].map((y) => laid(rectangle(x, y, 12, 300))));
    expect(placesAcross(twoRanges)).toEqual([1, 1, 2, 2]);
    expect(placesAcross([])).toEqual([]);
  });
});
