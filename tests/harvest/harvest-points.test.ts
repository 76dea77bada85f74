import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import {
  ALREADY_STANDARD,
  NO_SCREENS,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

const bare = (strips: number) => withSettings(trialOfStrips(strips, 12, 300), NO_SCREENS);

function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function yields(harvest: PointHarvest): (number | null | undefined)[] {
  return harvest.strips.map(({ values }) => values.yield);
}

/** Up the middle of a strip, a point each second. */
function pass(strip: number, point: (second: number) => Partial<PointRow>, seconds = 100): PointRow[] {
  return Array.from({ length: seconds }, (_, t) => ({
    eastM: strip * 12 + 6,
    northM: 1.5 + 2 * t,
    timeS: strip * 1000 + t,
    ...point(t),
  }));
}

describe('yield of a strip', () => {
  it('is mass over area under changing speed, not the mean of point yields', () => {
    // Analytic: 40 points of 1 m at 10 t/ha and 60 of 3 m at 5 t/ha, 9 m wide: (40*10 + 180*5) / 220 t/ha.
    const rows = pass(0, (t) => ({
      yieldKgPerHa: t < 40 ? 10_000 : 5000,
      distanceM: t < 40 ? 1 : 3,
      widthM: 9,
    }));
    const harvest = unwrap(harvestPoints(bare(1), [pointsFile(rows)]));
    expect(harvest.strips[0]?.values.yield).toBeCloseTo((40 * 10_000 + 180 * 5000) / 220, 9);
    expect(harvest.strips[0]?.harvestedAreaM2).toBeCloseTo(9 * 220, 9);
    expect(harvest.weighing).toBe('area');
  });

  it('is the same from yield, from flow and from mass', () => {
    // Definitions: flow = yield x width x speed, mass = flow x 1 s.
    const speed = (t: number) => 1.5 + 0.5 * Math.sin(t / 9);
    const at = (t: number) => 6000 + 20 * t;
    const base = (t: number) => ({ speedMPerS: speed(t), widthM: 9 });
    const flow = (t: number) => (at(t) / 10_000) * 9 * speed(t);
    const files = [
      pointsFile(pass(0, (t) => ({ ...base(t), yieldKgPerHa: at(t) }))),
      pointsFile(pass(0, (t) => ({ ...base(t), massFlowKgPerS: flow(t) }))),
      pointsFile(pass(0, (t) => ({ ...base(t), massKg: flow(t) }))),
    ];
    const [a, b, c] = files.map((file) => yields(unwrap(harvestPoints(bare(1), [file])))[0] as number);
    expect(b).toBeCloseTo(a as number, 8);
    expect(c).toBeCloseTo(a as number, 8);
  });
});

describe('counting points', () => {
  it('keeps and sets aside as many as it read', () => {
    const rows = [0, 1].flatMap((strip) =>
      pass(strip, (t) => ({ yieldKgPerHa: 5000 + t, speedMPerS: 2 }), 160),
    );
    const harvest = unwrap(harvestPoints(trialOfStrips(2, 12, 300), [pointsFile(rows)]));
    const { read, kept, setAside } = harvest.totals;
    expect(read).toBe(320);
    expect(kept + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
    expect(kept).toBeGreaterThan(200);
    expect(ALREADY_STANDARD.moistureBasis).toBe('standard');
  });
});
