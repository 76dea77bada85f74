import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inverseMove, movedPosition, type PlaneMove } from '../../src/geometry/plane-move.ts';

const metres = fc.double({ min: -1000, max: 1000, noNaN: true });
const position = fc.tuple(metres, metres);
const move: fc.Arbitrary<PlaneMove> = fc.record({
  eastM: metres,
  northM: metres,
  turnDegrees: fc.double({ min: -180, max: 180, noNaN: true }),
  mirrored: fc.boolean(),
  axisDegrees: fc.double({ min: -90, max: 90, noNaN: true }),
});
const STILL: PlaneMove = { eastM: 0, northM: 0, turnDegrees: 0, mirrored: false, axisDegrees: 0 };

describe('a move of the plane', () => {
  it('followed by its inverse leaves every position where it was', () => {
    fc.assert(
      fc.property(move, position, (moved, [east, north]) => {
        const [backEast, backNorth] = movedPosition(inverseMove(moved), movedPosition(moved, [east, north]));
        expect(Math.abs(backEast - east)).toBeLessThan(1e-9);
        expect(Math.abs(backNorth - north)).toBeLessThan(1e-9);
      }),
      { seed: 1 },
    );
  });

  it('keeps distances, and the sense of turning unless mirrored (cross product of two sides)', () => {
    fc.assert(
      fc.property(move, position, position, position, (moved, a, b, c) => {
        const [x, y, z] = [a, b, c].map((corner) => movedPosition(moved, corner)) as [
          [number, number],
          [number, number],
          [number, number],
        ];
        expect(Math.abs(distance(x, y) - distance(a, b))).toBeLessThan(1e-9);
        const sense = moved.mirrored ? -1 : 1;
        expect(Math.abs(cross(x, y, z) - sense * cross(a, b, c))).toBeLessThan(1e-5);
      }),
      { seed: 2 },
    );
  });

  it('turns clockwise, as a compass does, and mirrors across its axis', () => {
    const [east, north] = movedPosition({ ...STILL, turnDegrees: 90 }, [0, 1]);
    expect(east).toBeCloseTo(1, 12);
    expect(north).toBeCloseTo(0, 12);
    const mirrored = movedPosition({ ...STILL, mirrored: true, axisDegrees: 45 }, [3, 1]);
    expect(mirrored[0]).toBeCloseTo(1, 12);
    expect(mirrored[1]).toBeCloseTo(3, 12);
  });
});

type Corner = readonly [number, number];

function distance(a: Corner, b: Corner): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function cross(a: Corner, b: Corner, c: Corner): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
