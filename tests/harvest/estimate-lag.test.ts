import { describe, expect, it } from 'vitest';
import { estimateLag, type LagEstimate } from '../../src/harvest/estimate-lag.ts';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { tallyLags } from '../simulator/lag-fields.ts';
import { type PointRow, pointsFile, trialOfStrips } from './field-of-strips.ts';

/** Ground whose yield follows a known curve along the field, alike on all strips; the treatments differ by a third. */
const groundAt = (northM: number) =>
  5000 * (1 + 0.15 * Math.sin(northM / 17) + 0.1 * Math.sin(northM / 5.3 + 1));
const STRIPS = 8;

/** Logged so late: what is written at a second was cut `lateS` earlier. Analytic: the lag to find is `lateS`. */
function rowsLate(lateS: number, isNorthward: (strip: number) => boolean): PointRow[] {
  return Array.from({ length: STRIPS }, (_, strip) =>
    Array.from({ length: 200 }, (_, t): PointRow => {
      const northOf = (s: number) => (isNorthward(strip) ? 2 * s : 398 - 2 * s);
      const cut = northOf(t - lateS);
      const isCrop = t - lateS >= 0 && t - lateS < 200;
      return {
        eastM: strip * 12 + 6,
        northM: northOf(t),
        timeS: strip * 300 + t,
        distanceM: 2,
        widthM: 9,
        yieldKgPerHa: isCrop ? groundAt(cut) * (strip % 2 === 0 ? 1 : 1.3) : 0,
        moisturePercent: 15 + Math.sin(northOf(t - 4) / 17),
      };
    }),
  ).flat();
}

const trial = trialOfStrips(STRIPS, 12, 400);
function estimateOf(file: HarvestPointsInput): LagEstimate {
  const outcome = estimateLag(trial, [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value[0]!;
}
const serpentine = (strip: number) => strip % 2 === 0;

describe('transit lag from the data', () => {
  it.each([9, 3.5, 0, -6])('finds a signal that is %s s late, flow and moisture each by its own', (lateS) => {
    const { flow, moisture } = estimateOf(pointsFile(rowsLate(lateS, serpentine)));
    expect(flow.kind).toBe('lag');
    expect(moisture?.kind).toBe('lag');
    if (flow.kind !== 'lag' || moisture?.kind !== 'lag') return;
    expect(flow.lagS).toBeCloseTo(lateS, 1);
    expect(flow.lowerS).toBeLessThanOrEqual(flow.lagS);
    expect(flow.upperS).toBeGreaterThanOrEqual(flow.lagS);
    expect(moisture.lagS).toBeCloseTo(4, 1);
    // The curve covers the whole search, and is least where the answer lies.
    expect(flow.curve.map(({ lagS }) => lagS)).toEqual(Array.from({ length: 61 }, (_, k) => k / 2 - 15));
    const least = Math.min(...flow.curve.map(({ disagreement }) => disagreement));
    expect(flow.curve.find(({ disagreement }) => disagreement === least)?.lagS).toBeCloseTo(lateS, 0);
  });

  it('changes nothing: the trial keeps its own shift, and is asked as if it had none', () => {
    const file = pointsFile(rowsLate(9, serpentine));
    const shifted = { ...trial, harvest: { ...trial.harvest, shiftLagS: 9 } };
    expect(estimateLag(shifted, [file])).toEqual(estimateLag(trial, [file]));
  });

  const why = (file: HarvestPointsInput) => {
    const { flow } = estimateOf(file);
    return flow.kind === 'cannotTell' ? flow.why : flow.lagS;
  };

  it('cannot be told with all passes one way, without time, or with too few passes', () => {
    expect(why(pointsFile(rowsLate(9, () => true)))).toBe('allOneWay');
    const untimed = rowsLate(9, serpentine).map(({ timeS: _, ...row }) => row);
    expect(why(pointsFile(untimed))).toBe('noTime');
    expect(why(pointsFile(rowsLate(9, serpentine).filter(({ eastM }) => eastM < 30)))).toBe('tooFewPairs');
    const noGround = rowsLate(9, serpentine).map(({ distanceM: _, ...row }) => row);
    expect(why(pointsFile(noGround))).toBe('noSignal');
  });

  it('cannot be told on ground that is the same everywhere', () => {
    const flat = rowsLate(0, serpentine).map((row, i) => ({ ...row, yieldKgPerHa: 5000 + (i % 2) }));
    expect(typeof why(pointsFile(flat))).toBe('string');
    const exact = flat.map((row) => ({ ...row, yieldKgPerHa: 5000 }));
    expect(why(pointsFile(exact))).toBe('noSignal');
  });
});

/**
 * Known lags of simulated fields (tests/simulator/lag-fields.ts), on seeds that were not looked at while the method
 * was chosen. The long form: `node tests/simulator/judge-harvest.mjs`.
 */
describe('transit lag of simulated fields', () => {
  const seeds = (first: number) => Array.from({ length: 10 }, (_, k) => first + k);

  it('is answered, and within a second, on patchy ground', () => {
    const { answers, within1S } = tallyLags(seeds(50_001), 'patchy');
    expect(answers).toBeGreaterThanOrEqual(8);
    expect(within1S).toBeGreaterThanOrEqual(answers - 1);
  });

  it('is not answered on white noise', () => {
    expect(tallyLags(seeds(51_001), 'whiteNoise').answers).toBeLessThanOrEqual(1);
  });
});
