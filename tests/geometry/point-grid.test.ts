import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestInGrid, type PointGrid, pointGrid, startPointGrid } from '../../src/geometry/point-grid.ts';

/** On a lattice, so that several points are as near and several lie in one place; some far away, some nowhere. */
const coordinate = fc.oneof(
  { weight: 12, arbitrary: fc.integer({ min: -20, max: 20 }).map((n) => n / 2) },
  { weight: 4, arbitrary: fc.double({ min: -60, max: 60, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(4e6, -4e6, Number.NaN) },
);
const place = fc.tuple(coordinate, coordinate);

/** The oracle: every point is looked at. */
function nearestByLooking(
  places: readonly (readonly [number, number])[],
  [x, y]: readonly [number, number],
  withinM: number,
  isWanted: (index: number) => boolean,
): number {
  const near = places
    .map(([east, north], index) => ({ index, square: (east - x) ** 2 + (north - y) ** 2 }))
    .filter(({ index, square }) => square <= withinM ** 2 && isWanted(index))
    .sort((a, b) => a.square - b.square || b.index - a.index);
  return near[0]?.index ?? -1;
}

function gridOf(places: readonly (readonly [number, number])[], pointsAStep?: number): PointGrid {
  const eastM = Float64Array.from(places, ([east]) => east);
  const northM = Float64Array.from(places, ([, north]) => north);
  if (pointsAStep === undefined) return pointGrid(eastM, northM);
  const sortSome = startPointGrid(eastM, northM);
  for (;;) {
    const grid = sortSome(pointsAStep);
    if (grid !== null) return grid;
  }
}

describe('the nearest of many points, by a grid', () => {
  it('is the one found by looking at every point (oracle: the plain loop)', () => {
    fc.assert(
      fc.property(
        fc.array(place, { maxLength: 120 }),
        fc.array(fc.tuple(place, fc.constantFrom(0, 0.5, 3, 40, 1e7)), { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 1, max: 4 }),
        (places, asked, every) => {
          const grid = gridOf(places);
          const isWanted = (index: number) => index % every === 0;
          const known = asked.filter(([[x, y]]) => !Number.isNaN(x + y));
          const found = known.map(([at, withinM]) => nearestInGrid(grid, ...at, withinM, isWanted));
          expect(found).toEqual(
            known.map(([at, withinM]) => nearestByLooking(places, at, withinM, isWanted)),
          );
        },
      ),
      { numRuns: 80, seed: 20_261_125 },
    );
  });

  it('is the same however few points are sorted at a time (law)', () => {
    fc.assert(
      fc.property(fc.array(place, { maxLength: 60 }), fc.integer({ min: 1, max: 70 }), (places, some) => {
        const [whole, bySome] = [gridOf(places), gridOf(places, some)];
        expect(bySome.order).toEqual(whole.order);
        expect(bySome.first).toEqual(whole.first);
      }),
      { numRuns: 40, seed: 20_261_125 },
    );
  });

  it('looks at few points where many lie (law: those wanted are asked for one by one)', () => {
    const places = Array.from({ length: 40_000 }, (_, i) => [i % 200, Math.floor(i / 200)] as const);
    let looked = 0;
    const found = nearestInGrid(gridOf(places), 100.2, 99.9, 1e6, () => {
      looked += 1;
      return true;
    });
    expect(found).toBe(100 * 200 + 100);
    expect(looked).toBeLessThan(40);
  });
});
