import { describe, expect, it } from 'vitest';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { SET_ASIDE_REASONS, type SetAsideReason } from '../../src/harvest/strip-values.ts';
import type { HarvestSettings } from '../../src/trial/trial-document.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { ALREADY_STANDARD, NO_SCREENS, type PointRow, pointsFile, trialOfStrips } from './field-of-strips.ts';

/** The meaning of each screen as its setting states it; the points are made to fall on either side. */
function reasons(
  rows: readonly PointRow[] | HarvestPointsInput,
  settings: Partial<HarvestSettings>,
  strips = 1,
): (SetAsideReason | 'kept')[] {
  const trial = { ...trialOfStrips(strips, 12, 300), harvest: { ...NO_SCREENS, ...settings } };
  const file = 'count' in rows ? rows : pointsFile(rows);
  const outcome = harvestPoints(trial, [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const { placed, totals, strips: values } = outcome.value;
  const given = [...placed.reason].map((number) => (number === 0 ? 'kept' : SET_ASIDE_REASONS[number - 1]!));
  // Law: kept and set aside make up what was read, in all and in each strip.
  const sum = (counts: object) => Object.values(counts).reduce((total: number, n: number) => total + n, 0);
  expect(totals.kept + sum(totals.setAside)).toBe(totals.read);
  for (const value of values) {
    expect((value.pointsKept ?? 0) + sum(value.pointsSetAside)).toBe(value.pointsRead);
  }
  // What is kept carries a yield, and a strip's value is null or a number.
  given.forEach((name, i) => {
    if (name === 'kept') expect(Number.isFinite(placed.yieldKgPerHa[i])).toBe(true);
  });
  for (const value of values)
    expect(value.values.yield === null || Number.isFinite(value.values.yield)).toBe(true);
  return given;
}

function row(given: Partial<PointRow>): PointRow {
  return { eastM: 6, northM: 150, yieldKgPerHa: 5000, ...given };
}

function pass(seconds: number, at: (t: number) => Partial<PointRow> = () => ({})): PointRow[] {
  return Array.from({ length: seconds }, (_, t) => row({ northM: 50 + 2 * t, timeS: t, ...at(t) }));
}

function indicesOf(given: readonly string[], reason: string): number[] {
  return given.flatMap((name, i) => (name === reason ? [i] : []));
}

describe('screens', () => {
  it('unreadable: no position or no yield', () => {
    const file = pointsFile([row({}), row({ yieldKgPerHa: Number.NaN }), row({}), row({})]);
    file.longitude[2] = Number.NaN;
    expect(reasons(file, {})).toEqual(['kept', 'unreadable', 'unreadable', 'kept']);
  });

  it('outsideStrips and sideMargin: the smaller of the margin and half of what the strip is wider', () => {
    const across = [-0.5, 0.5, 1.2, 1.4, 6, 10.6, 10.9, 12.5].map((eastM) => row({ eastM, widthM: 9 }));
    const margin = (settings: Partial<HarvestSettings>) => indicesOf(reasons(across, settings), 'sideMargin');
    expect(indicesOf(reasons(across, {}), 'outsideStrips')).toEqual([0, 7]);
    expect(margin({ sideMarginM: 1 })).toEqual([1]);
    // Half of 12 - 9 is 1.5 and caps a margin of 3; a header of 9.3 caps at 1.35; one of 12 or more at 0.
    expect(margin({ sideMarginM: 3 })).toEqual([1, 2, 3, 5, 6]);
    expect(margin({ sideMarginM: 3, headerWidthM: 9.3 })).toEqual([1, 2, 6]);
    expect(margin({ sideMarginM: 3, headerWidthM: 13 })).toEqual([]);
    const noWidth = across.map(({ eastM }) => row({ eastM }));
    expect(indicesOf(reasons(noWidth, { sideMarginM: 1.3 }), 'sideMargin')).toEqual([1, 2, 6]);
  });

  it('headerUp: where recorded as up, not where not recorded', () => {
    const rows = [1, 0, 255, 1].map((headerDown) => row({ headerDown }));
    expect(reasons(rows, {})).toEqual(['kept', 'headerUp', 'kept', 'kept']);
  });

  it('turning: heading changed by more than the limit within so many seconds, by the shorter way round', () => {
    const rows = pass(12, (t) => ({ headingDegrees: t < 6 ? 350 : 15 }));
    const settings = { turnDegrees: 20, turnWithinS: 3 };
    expect(indicesOf(reasons(rows, settings), 'turning')).toEqual([3, 4, 5, 6, 7, 8]);
    const mild = pass(12, (t) => ({ headingDegrees: t < 6 ? 350 : 9 }));
    expect(indicesOf(reasons(mild, settings), 'turning')).toEqual([]);
  });

  it('turning: from the track where no heading is recorded', () => {
    const rows = pass(40, (t) =>
      t < 20 ? { northM: 100 + 2 * t } : { northM: 140, eastM: 6 + 0.25 * (t - 19) },
    );
    const turning = indicesOf(reasons(rows, { turnDegrees: 20 }), 'turning');
    expect(turning).toContain(19);
    expect(turning.every((i) => i > 12 && i < 36)).toBe(true);
    expect(indicesOf(reasons(pass(40), { turnDegrees: 20 }), 'turning')).toEqual([]);
  });

  it('endMargin: nearer to an end than the margin', () => {
    const rows = [5, 19.9, 20.1, 150, 279.9, 280.1].map((northM) => row({ northM }));
    expect(indicesOf(reasons(rows, { endMarginM: 20 }), 'endMargin')).toEqual([0, 1, 5]);
  });

  it('speed: limits, and change from the point before', () => {
    const speeds = [2, 2.3, 2.9, 2.9, 0.7, 0.7, 4, 4, 3.9];
    const rows = pass(speeds.length, (t) => ({ speedMPerS: speeds[t]! }));
    expect(indicesOf(reasons(rows, { speedMinMPerS: 0.8 }), 'speed')).toEqual([4, 5]);
    expect(indicesOf(reasons(rows, { speedMaxMPerS: 3.95 }), 'speed')).toEqual([6, 7]);
    expect(indicesOf(reasons(rows, { speedChangePercent: 20 }), 'speed')).toEqual([2, 4, 6]);
    // Of the speed before: 2 to 2.45 are 22.5 %, 2.45 to 2 are 18.4 %.
    const there = pass(3, (t) => ({ speedMPerS: [2, 2.45, 2][t]! }));
    expect(indicesOf(reasons(there, { speedChangePercent: 20 }), 'speed')).toEqual([1]);
  });

  it('speed: from distance over time, and standing still always', () => {
    const rows = pass(6, (t) => ({ distanceM: [2, 2, 0, 2, 5, 2][t]! }));
    expect(indicesOf(reasons(rows, { speedMaxMPerS: 4 }), 'speed')).toEqual([2, 4]);
    expect(indicesOf(reasons(rows, {}), 'speed')).toEqual([2]);
  });

  it('width: below the share of the header', () => {
    const rows = [9, 9, 8.2, 8, 4.5, 9, 9].map((widthM) => row({ widthM }));
    expect(indicesOf(reasons(rows, { widthShareMin: 0.9 }), 'width')).toEqual([3, 4]);
    expect(indicesOf(reasons(rows, { widthShareMin: 0.9, headerWidthM: 10 }), 'width')).toEqual([2, 3, 4]);
  });

  it('moisture: outside the limits, and at 0 or 100 always; missing only where the yield needs it', () => {
    const moistures = [14, 5, 0, 100, 38, 41, Number.NaN];
    const rows = moistures.map((moisturePercent) => row({ moisturePercent }));
    expect(indicesOf(reasons(rows, {}), 'moisture')).toEqual([1, 2, 3, 5]);
    const wide = { moistureMinPercent: 0, moistureMaxPercent: 99 };
    expect(indicesOf(reasons(rows, wide), 'moisture')).toEqual([2, 3]);
    const wet = pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
    expect(indicesOf(reasons(wet, wide), 'moisture')).toEqual([2, 3, 6]);
  });

  it('yield: true zeros stay, negatives go, and what is above so many medians', () => {
    const yields = [5000, 4800, 0, -1, 12_400, 12_600, 5100, 5000, 5000];
    const rows = yields.map((yieldKgPerHa) => row({ yieldKgPerHa }));
    const settings = { yieldMinKgPerHa: 0, yieldMaxTimesMedian: 2.5 };
    expect(indicesOf(reasons(rows, settings), 'yield')).toEqual([3, 5]);
    expect(indicesOf(reasons(rows, { yieldMinKgPerHa: 100 }), 'yield')).toEqual([2, 3]);
    expect(indicesOf(reasons(rows, {}), 'yield')).toEqual([]);
  });

  it('outlier: against the running median of its own pass', () => {
    const noise = (t: number) => 40 * Math.sin(2.3 * t);
    const rows = pass(60, (t) => ({ yieldKgPerHa: t === 30 ? 6500 : 5000 + 10 * t + noise(t) }));
    expect(indicesOf(reasons(rows, { outlierRobustSd: 3 }), 'outlier')).toEqual([30]);
    expect(indicesOf(reasons(rows, {}), 'outlier')).toEqual([]);
  });

  it('outlier: zeros in a row are bare ground, stay, and judge nothing; one alone is a slip of the sensor', () => {
    const noise = (t: number) => 40 * Math.sin(2.3 * t);
    for (const bare of [2, 3, 5, 8, 20]) {
      const isBare = (t: number) => t >= 20 && t < 20 + bare;
      const rows = pass(60, (t) => ({ yieldKgPerHa: isBare(t) || t === 50 ? 0 : 5000 + noise(t) }));
      expect(indicesOf(reasons(rows, { outlierRobustSd: 3 }), 'outlier')).toEqual([50]);
      const up = rows.map((given, t) => ({ ...given, headerDown: isBare(t) ? 0 : 1 }));
      expect(indicesOf(reasons(up, { outlierRobustSd: 3 }), 'headerUp')).toHaveLength(bare);
    }
  });

  it('rows that stand twice, of one time and place, count once', () => {
    const rows = pass(60, (t) => ({ yieldKgPerHa: 5000 + 40 * Math.sin(2.3 * t), distanceM: 2, widthM: 6 }));
    const given = reasons(
      rows.flatMap((one) => [one, one]),
      { widthShareMin: 0.9, positionScreen: true },
    );
    expect(given).toEqual(rows.flatMap(() => ['kept', 'unreadable']));
  });

  it('outlier: never across a treatment border, however far the treatments lie apart', () => {
    // Driven across the strips, 5 t/ha in one and 12 in the next: the points beside the border would stand out
    // from a running median taken over it.
    const rows = Array.from({ length: 36 }, (_, t) => ({
      eastM: 0.5 + 0.65 * t,
      northM: 150,
      timeS: t,
      yieldKgPerHa: (t < 18 ? 5000 : 12_000) + 100 * Math.sin(1.7 * t),
    }));
    const lone = rows.map((given, t) => (t === 20 ? { ...given, yieldKgPerHa: 5000 } : given));
    expect(indicesOf(reasons(rows, { outlierRobustSd: 3 }, 2), 'outlier')).toEqual([]);
    // What fits the neighbour's treatment stands out in its own strip.
    expect(indicesOf(reasons(lone, { outlierRobustSd: 3 }, 2), 'outlier')).toEqual([20]);
  });

  it('keep and set aside what was read, whatever the settings and however wild the points', () => {
    const random = seededRandom(51);
    const maybe = (value: number) => (random.chance(0.1) ? Number.NaN : value);
    const limit = (value: number) => (random.chance(0.3) ? null : value);
    for (let n = 0; n < 60; n++) {
      const rows = Array.from({ length: 80 }, (_, t) => ({
        eastM: random.between(-10, 34),
        northM: random.between(-20, 320),
        yieldKgPerHa: maybe(random.between(-500, 20_000)),
        moisturePercent: maybe(random.between(-5, 105)),
        speedMPerS: maybe(random.between(0, 6)),
        widthM: maybe(random.between(0, 10)),
        headingDegrees: maybe(random.between(0, 360)),
        headerDown: random.chance(0.8) ? 1 : 0,
        timeS: maybe(t),
      }));
      // A point in the first strip, so that the file is of this field.
      const file = pointsFile([...rows, { ...rows[0]!, eastM: 6, northM: 150 }], {
        ...ALREADY_STANDARD,
        moistureBasis: random.chance(0.5) ? 'wet' : 'standard',
      });
      const given = reasons(
        file,
        {
          endMarginM: random.between(0, 40),
          sideMarginM: random.between(0, 3),
          shiftLagS: random.chance(0.5) ? 0 : random.between(-10, 10),
          speedMinMPerS: limit(1),
          speedMaxMPerS: limit(4),
          speedChangePercent: limit(50),
          turnDegrees: limit(90),
          widthShareMin: limit(0.5),
          moistureMinPercent: limit(5),
          yieldMinKgPerHa: limit(0),
          yieldMaxTimesMedian: limit(1.5),
          outlierRobustSd: limit(2),
        },
        2,
      );
      expect(given.length).toBe(81);
    }
  });

  it('gives the first reason in the order of reasons', () => {
    const bad = {
      headerDown: 0,
      speedMPerS: 9,
      widthM: 1,
      moisturePercent: 0,
      yieldKgPerHa: 1e6,
      eastM: 0.2,
    };
    const rest = { headerDown: 1, speedMPerS: 2, widthM: 9, moisturePercent: 14 };
    const rows = [...Array.from({ length: 20 }, () => row(rest)), row(bad), row({ ...bad, eastM: 6 })];
    const settings = {
      sideMarginM: 1,
      speedMaxMPerS: 4,
      widthShareMin: 0.9,
      yieldMaxTimesMedian: 2.5,
    };
    expect(reasons(rows, settings).slice(-2)).toEqual(['sideMargin', 'headerUp']);
  });
});
