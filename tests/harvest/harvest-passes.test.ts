import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import {
  AS_IT_LIES,
  NO_SCREENS,
  type Place,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

const SETTINGS = { ...NO_SCREENS, sideMarginM: 1 };

function unwrap(outcome: Outcome<PointHarvest>): PointHarvest {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

/** Back and forth over straight passes with half circles between; 2 m a second, a point each second. */
function serpentine(easts: readonly number[], lengthM = 300, headerM = 9): PointRow[] {
  const rows: PointRow[] = [];
  const add = (eastM: number, northM: number, yieldKgPerHa: number) =>
    rows.push({ eastM, northM, yieldKgPerHa, distanceM: 2, widthM: headerM, timeS: rows.length });
  easts.forEach((eastM, pass) => {
    const isNorthward = pass % 2 === 0;
    for (let driven = -15; driven <= lengthM + 15; driven += 2) {
      add(eastM, isNorthward ? driven : lengthM - driven, 5000 + 100 * pass);
    }
    const next = easts[pass + 1];
    if (next === undefined) return;
    const radius = (next - eastM) / 2;
    for (let angle = 0.2; angle < Math.PI; angle += 2 / Math.abs(radius)) {
      const north = isNorthward ? lengthM + 15 : -15;
      const ahead = Math.abs(radius) * Math.sin(angle);
      add(eastM + radius * (1 - Math.cos(angle)), isNorthward ? north + ahead : north - ahead, 0);
    }
  });
  return rows;
}

const settings = (strips: number, place: Place = AS_IT_LIES) =>
  withSettings(trialOfStrips(strips, 12, 300, place), SETTINGS);
const kept = ({ strips }: PointHarvest) => strips.map(({ pointsKept }) => pointsKept);

describe('the track cut into passes', () => {
  it('has one pass for each time the field was driven up or down, numbered as driven, turns left out', () => {
    const rows = serpentine([6, 18, 30, 42]);
    const { passes, passOfPoint } = unwrap(harvestPoints(settings(4), [pointsFile(rows)]));
    const numbers = passOfPoint();
    const long = passes.filter(({ lengthM }) => lengthM > 100);
    expect(long.map(({ inStrips }) => inStrips.map(({ strip }) => strip))).toEqual([[0], [1], [2], [3]]);
    expect(passes.map(({ number }) => number)).toEqual(passes.map((_, i) => i + 1));
    // Each point of the field between the headlands belongs to the pass that it was logged in.
    rows.forEach(({ eastM, northM }, i) => {
      if (northM > 0 && northM < 300) expect(numbers[i]).toBe(long[Math.round((eastM - 6) / 12)]?.number);
    });
    for (const { lengthM } of long) expect(lengthM).toBeGreaterThan(315);
    for (const { lengthM } of long) expect(lengthM).toBeLessThan(345);
  });

  it('is cut at a gap in time', () => {
    const rows = serpentine([6]).map((row, i) => (i < 80 ? row : { ...row, timeS: (row.timeS ?? 0) + 600 }));
    const { passes } = unwrap(harvestPoints(settings(1), [pointsFile(rows)]));
    expect(passes.map(({ points }) => points)).toEqual([80, rows.length - 80]);
  });

  it('is not cut where a strip bends with the land, nor by the jitter of a machine that stands', () => {
    const bend = Array.from({ length: 150 }, (_, t) => {
      const angle = (2 * t) / 200;
      return { eastM: 206 - 200 * Math.cos(angle), northM: 200 * Math.sin(angle), t };
    });
    const rows = bend.map(({ eastM, northM, t }) => ({
      eastM,
      northM,
      yieldKgPerHa: 5000,
      distanceM: 2,
      widthM: 9,
      timeS: t,
    }));
    expect(unwrap(harvestPoints(settings(18), [pointsFile(rows)])).passes.length).toBe(1);
    const standing = serpentine([6]).flatMap((row, i) =>
      i === 70
        ? Array.from({ length: 200 }, (_, k) => ({ ...row, eastM: 6 + 0.05 * Math.sin(7 * k), distanceM: 0 }))
        : [row],
    );
    const timed = standing.map((row, timeS) => ({ ...row, timeS }));
    expect(unwrap(harvestPoints(settings(1), [pointsFile(timed)])).passes.length).toBe(1);
  });

  it('tells which way each pass was driven along its strip', () => {
    const { passes } = unwrap(harvestPoints(settings(2), [pointsFile(serpentine([6, 18]))]));
    expect(passes.flatMap(({ inStrips }) => inStrips.map(({ direction }) => direction))).toEqual([
      'along',
      'against',
    ]);
  });
});

describe('passes to strips', () => {
  it('sets a whole pass that straddles a border aside, and keeps the one that fits', () => {
    const rows = serpentine([6, 12.5, 18]);
    const harvest = unwrap(harvestPoints(settings(2), [pointsFile(rows)]));
    // Inside the 300 m there are 150 or 151 points of a pass.
    for (const points of kept(harvest)) expect(Math.abs(points! - 150.5)).toBeLessThan(1);
    const straddling = harvest.passes.flatMap(({ inStrips }) => inStrips.filter(({ isUsed }) => !isUsed));
    expect(straddling.length).toBe(1);
    // Analytic: the header from 8 to 17 in the core from 13 to 23.
    expect(straddling[0]?.strip).toBe(1);
    expect(straddling[0]?.shareInside).toBeCloseTo((17 - 13) / 9, 6);
    expect(harvest.strips.map(({ values }) => values.yield)).toEqual([5000, 5200]);
  });

  it('allows a tenth of the header over the side, where the header is as wide as the strip', () => {
    const wide = (offset: number) =>
      harvestPoints(settings(3), [pointsFile(serpentine([6, 18 + offset, 30], 300, 12))]);
    expect(wide(1.15).problems).toEqual([]);
    const over = wide(1.25);
    expect(over.problems.map(({ code }) => code)).toEqual(['noPassFits']);
    const { details } = over.problems[0]!;
    expect(Object.keys(details)).toEqual([...HARVEST_PROBLEM_CODES.noPassFits]);
    expect(details.strips).toEqual(['s2']);
    // Analytic: 1.25 m of the 12 m header lie in the neighbour, as far as the pass runs beside it.
    expect(details.insidePercent).toBeCloseTo((100 * 10.75) / 12, 6);
    expect(details.neighbourPercent).toBeCloseTo((100 * 1.25) / 12, 1);
    // The best there is was taken.
    expect(kept(unwrap(over))[1]).toBeGreaterThan(148);
  });

  it('keeps a pass whole where its positions wander over the border for a while', () => {
    const wander = (i: number) => (i > 60 && i < 100 ? 6.4 * Math.sin((Math.PI * (i - 60)) / 40) : 0);
    const rows = serpentine([6]).map((row, i) => ({ ...row, eastM: row.eastM + wander(i) }));
    expect(rows.some(({ eastM }) => eastM > 12)).toBe(true);
    const harvest = unwrap(harvestPoints(settings(2), [pointsFile(rows)]));
    expect(harvest.strips[1]?.pointsRead).toBe(0);
    expect(harvest.strips[0]?.pointsKept).toBeGreaterThan(148);
  });

  it('takes a pass across the strips in each of them', () => {
    const rows = Array.from({ length: 36 }, (_, t) => ({
      eastM: 0.5 + t,
      northM: 150,
      yieldKgPerHa: 5000,
      distanceM: 1,
      widthM: 9,
      timeS: t,
    }));
    const { passes, strips } = unwrap(harvestPoints(settings(3), [pointsFile(rows)]));
    expect(passes.map(({ inStrips }) => inStrips.map(({ direction }) => direction))).toEqual([
      ['across', 'across', 'across'],
    ]);
    expect(strips.map(({ pointsRead }) => pointsRead)).toEqual([12, 12, 12]);
  });

  it('keeps the end margin with the whole footprint, front and rear', () => {
    const trial = withSettings(trialOfStrips(1, 12, 300), { ...SETTINGS, endMarginM: 20 });
    const rows = serpentine([6]);
    const { placed } = unwrap(harvestPoints(trial, [pointsFile(rows)]));
    const left = rows.filter((_, i) => placed.reason[i] === 0).map(({ northM }) => northM);
    // Northward, 2 m long: the front must not pass 280, the rear must have passed 20.
    expect(Math.min(...left) - 2).toBeGreaterThanOrEqual(20);
    expect(Math.min(...left) - 2).toBeLessThan(22);
    expect(Math.max(...left)).toBeLessThanOrEqual(280);
    expect(Math.max(...left)).toBeGreaterThan(278);
  });

  const moves: Record<string, Place> = {
    turned: (x, y) => [x * Math.cos(2) - y * Math.sin(2), x * Math.sin(2) + y * Math.cos(2)],
    shifted: (x, y) => [x - 321.7, y + 876.3],
    mirrored: (x, y) => [-x, y],
  };
  it.each(Object.entries(moves))('a field %s has the same passes, shares and strip values', (_, place) => {
    const rows = serpentine([6.7, 12.5, 17.1, 31.2], 300).map((row, i) => ({
      ...row,
      eastM: row.eastM + 0.3 * Math.sin(i / 7),
      yieldKgPerHa: 5000 + 300 * Math.sin(i / 11),
    }));
    const before = unwrap(harvestPoints(settings(3), [pointsFile(rows)]));
    const after = unwrap(harvestPoints(settings(3, place), [pointsFile(rows, undefined, place)]));
    expect(after.passOfPoint()).toEqual(before.passOfPoint());
    after.passes.forEach(({ inStrips }, p) => {
      const known = before.passes[p]!.inStrips;
      expect(inStrips.map(({ strip, isUsed, points }) => [strip, isUsed, points])).toEqual(
        known.map(({ strip, isUsed, points }) => [strip, isUsed, points]),
      );
      inStrips.forEach(({ shareInside }, k) => {
        // Headings come from degrees, whose last bit is a nanometre, over a reach of some metres; in local metres
        // the law holds to 1e-12 (tests/geometry/footprint.test.ts).
        expect(Math.abs(shareInside! - known[k]!.shareInside!)).toBeLessThan(1e-8);
      });
    });
    after.strips.forEach(({ values }, s) => {
      expect(Math.abs(values.yield! / before.strips[s]!.values.yield! - 1)).toBeLessThan(1e-9);
    });
  });
});

describe('a stub of a pass beside a whole one that straddles', () => {
  const stub = (eastM: number, northM: number, points: number, timeS: number) =>
    Array.from({ length: points }, (_, k) => ({
      eastM,
      northM: northM + 2 * k,
      yieldKgPerHa: 9000,
      distanceM: 2,
      widthM: 12,
      timeS: timeS + k,
    }));
  const whole = serpentine([6, 18 + 1.5, 30], 300, 12);

  it('never stands for the strip: the whole pass is the best there is', () => {
    for (const points of [8, 20]) {
      const rows = [...whole, ...stub(18 + 1.4, 100, points, 5000)];
      const outcome = harvestPoints(settings(3), [pointsFile(rows)]);
      expect(outcome.problems.map(({ code }) => code)).toContain('noPassFits');
      expect(kept(unwrap(outcome))[1]).toBeGreaterThan(140);
    }
  });

  it('nor where it fits: few points do not outweigh a pass', () => {
    const rows = [...whole, ...stub(18, 100, 8, 5000)];
    const outcome = harvestPoints(settings(3), [pointsFile(rows)]);
    expect(kept(unwrap(outcome))[1]).toBeGreaterThan(140);
    expect(outcome.problems.map(({ code }) => code)).toContain('noPassFits');
  });

  it('but half a pass that fits does, and nothing that straddles comes beside it', () => {
    const rows = [...whole, ...stub(18, 20, 60, 5000)];
    const outcome = harvestPoints(settings(3), [pointsFile(rows)]);
    expect(kept(unwrap(outcome))[1]).toBe(60);
    expect(outcome.problems.map(({ code }) => code)).not.toContain('noPassFits');
  });
});
