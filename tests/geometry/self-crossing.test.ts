import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { polygonCrossesItself, ringCrossesItself } from '../../src/geometry/self-crossing.ts';

type Corner = [number, number];

/** A star-shaped ring: corners in the order of their angle about the middle, at any distance from it. */
const starShaped = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.5, max: 1, noNaN: true }),
      far: fc.double({ min: 0.5, max: 9, noNaN: true }),
    }),
    {
      minLength: 4,
      maxLength: 12,
    },
  )
  .map((corners): Corner[] => {
    const whole = corners.reduce((sum, { step }) => sum + step, 0);
    let turned = 0;
    return corners.map(({ step, far }) => {
      turned += (2 * Math.PI * step) / whole;
      return [far * Math.cos(turned), far * Math.sin(turned)];
    });
  });

describe('a ring that crosses itself', () => {
  it('a bow tie does, a square does not; repeated corners and a closing one change nothing', () => {
    const square: Corner[] = [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
    ];
    const bowTie: Corner[] = [
      [0, 0],
      [4, 4],
      [4, 0],
      [0, 4],
    ];
    for (const [ring, crosses] of [
      [square, false],
      [bowTie, true],
    ] as const) {
      expect(ringCrossesItself(ring)).toBe(crosses);
      expect(ringCrossesItself([...ring, ring[0]!])).toBe(crosses);
      expect(ringCrossesItself([ring[0]!, ...ring, ring[0]!, ring[0]!])).toBe(crosses);
    }
    expect(polygonCrossesItself({ type: 'MultiPolygon', coordinates: [[square], [square, bowTie]] })).toBe(
      true,
    );
    expect(polygonCrossesItself({ type: 'Polygon', coordinates: [square] })).toBe(false);
  });

  it('corners in order of their angle never cross; two of them exchanged cross where a convex ring is meant (laws)', () => {
    fc.assert(
      fc.property(starShaped, (ring) => {
        expect(ringCrossesItself(ring)).toBe(false);
      }),
      { numRuns: 300, seed: 51 },
    );
    const convex = fc.integer({ min: 4, max: 12 }).chain((count) =>
      fc.record({
        count: fc.constant(count),
        at: fc.nat({ max: count - 1 }),
        by: fc.integer({ min: 1, max: count - 3 }),
      }),
    );
    fc.assert(
      fc.property(convex, ({ count, at, by }) => {
        const ring = Array.from(
          { length: count },
          (_, k): Corner => [Math.cos((2 * Math.PI * k) / count), Math.sin((2 * Math.PI * k) / count)],
        );
        const other = (at + by) % count;
        [ring[at], ring[other]] = [ring[other]!, ring[at]!];
        expect(ringCrossesItself(ring)).toBe(true);
      }),
      { numRuns: 200, seed: 52 },
    );
  });

  it('as polygon-clipping sees it: the union of a ring that crosses is another ring (oracle)', () => {
    const ring = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 30 })), {
      minLength: 4,
      maxLength: 7,
    });
    let crossing = 0;
    fc.assert(
      fc.property(ring, (corners) => {
        if (new Set(corners.map(String)).size < corners.length) return;
        const union = polygonClipping.union([corners as Corner[]]);
        const isOneRing = union.length === 1 && union[0]!.length === 1;
        const isSame = isOneRing && areaOf(union[0]![0]!) === areaOf(corners as Corner[]);
        if (ringCrossesItself(corners)) crossing += 1;
        // A ring that is kept as it is does not cross.
        if (!ringCrossesItself(corners)) expect(isSame, JSON.stringify(corners)).toBe(true);
      }),
      { numRuns: 500, seed: 53 },
    );
    expect(crossing).toBeGreaterThan(50);
  });
});

function areaOf(ring: readonly Corner[]): number {
  const twice = ring.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice / 2);
}
