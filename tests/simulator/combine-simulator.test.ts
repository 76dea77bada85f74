import { describe, expect, it } from 'vitest';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import type { HarvestSettings, TrialDocument } from '../../src/trial/trial-document.ts';
import {
  ALREADY_STANDARD,
  NO_SCREENS,
  pointsFile,
  trialOfStrips,
  withSettings,
} from '../harvest/field-of-strips.ts';
import { type MachineSpecification, type SimulatedHarvest, simulateHarvest } from './combine-simulator.ts';
import { seededRandom } from './seeded-random.ts';
import { type FieldSpecification, simulateField } from './simulated-field.ts';

const NO_FAULTS = {
  slowdownsPerPass: 0,
  stopsPerPass: 0,
  liftsPerPass: 0,
  turnsWithHeaderDownShare: 0,
  flowSpikeShare: 0,
  moistureSpikeShare: 0,
};
const IDEAL: MachineSpecification = {
  headerM: 9,
  speedMPerS: 1.8,
  speedWanderShare: 0,
  lagS: 0,
  mixingS: 0,
  lagTakenOutS: 0,
  driftM: 0,
  jitterM: 0,
  flowNoiseShare: 0,
  moistureNoisePercent: 0,
  recordedWidth: 'header',
  faults: NO_FAULTS,
};
const REAL: MachineSpecification = {
  ...IDEAL,
  speedWanderShare: 0.06,
  lagS: 10,
  mixingS: 2,
  lagTakenOutS: 9,
  driftM: 0.2,
  jitterM: 0.05,
  flowNoiseShare: 0.04,
  moistureNoisePercent: 0.15,
  recordedWidth: 'header',
  faults: {
    slowdownsPerPass: 0.4,
    stopsPerPass: 0.2,
    liftsPerPass: 0.2,
    turnsWithHeaderDownShare: 0.3,
    flowSpikeShare: 0.003,
    moistureSpikeShare: 0.002,
  },
};
const STRIPS = 8;
const FIELD: FieldSpecification = {
  stripWidthM: 12,
  stripLengthM: 300,
  yieldKgPerHa: Array.from({ length: STRIPS }, (_, s) => 6000 + 700 * (s % 2) + 60 * s),
  moisturePercent: Array.from({ length: STRIPS }, (_, s) => 15 + 0.8 * (s % 2)),
  standardMoisturePercent: 15,
  patchShare: 0.05,
};
const MIDDLES = FIELD.yieldKgPerHa.map((_, s) => 12 * s + 6);
const BETWEEN = Array.from({ length: STRIPS + 1 }, (_, s) => 12 * s).reverse();

function fileOf({ rows }: SimulatedHarvest): HarvestPointsInput {
  return pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
}

/** Strip values less the known ones, as shares. */
function errors(harvest: SimulatedHarvest, settings: Partial<HarvestSettings>): number[] {
  const trial: TrialDocument = withSettings(trialOfStrips(STRIPS, 12, 300), settings);
  const outcome = harvestPoints(trial, [fileOf(harvest)]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value.strips.map(({ values }, s) => values.yield! / FIELD.yieldKgPerHa[s]! - 1);
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
}

describe('the seeded generator', () => {
  it('repeats itself by seed, fills [0, 1) evenly, and is normal in its moments', () => {
    const draws = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).uniform);
    expect(draws(7)).toEqual(draws(7));
    expect(draws(7)).not.toEqual(draws(8));
    const random = seededRandom(9);
    const bins = new Int32Array(10);
    for (let n = 0; n < 100_000; n++) bins[Math.floor(10 * random.uniform())]! += 1;
    // Chi-squared on 9 df: 27.88 is its upper .001 point (printed tables).
    expect(bins.reduce((sum, n) => sum + (n - 10_000) ** 2 / 10_000, 0)).toBeLessThan(27.88);
    const normals = Array.from({ length: 100_000 }, () => random.normal());
    const mean = normals.reduce((sum, x) => sum + x, 0) / normals.length;
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(100_000));
    expect(rms(normals)).toBeCloseTo(1, 2);
  });
});

describe('the combine', () => {
  it('loses and makes no grain: what was cut was sensed or is still in the machine', () => {
    const random = seededRandom(41);
    const harvest = simulateHarvest(simulateField(FIELD, random), REAL, [...MIDDLES, ...BETWEEN], random);
    expect(harvest.sensedKg + harvest.inMachineKg).toBeCloseTo(harvest.cutKg, 6);
  });

  it('cuts the whole field once: all passes together bring in what stood there', () => {
    const random = seededRandom(42);
    const even = { ...FIELD, patchShare: 0 };
    const { cutKg } = simulateHarvest(simulateField(even, random), IDEAL, [...MIDDLES, ...BETWEEN], random);
    // Analytic: area of each strip times its wet yield.
    const stood = FIELD.yieldKgPerHa.reduce(
      (sum, kgPerHa, s) => sum + ((0.36 * kgPerHa) / (1 - FIELD.moisturePercent[s]! / 100)) * 0.85,
      0,
    );
    expect(Math.abs(cutKg / stood - 1)).toBeLessThan(0.003);
  });

  it('without faults, noise and lag gives the known yields back to the last digits', () => {
    const random = seededRandom(43);
    const even = { ...FIELD, patchShare: 0 };
    const harvest = simulateHarvest(simulateField(even, random), IDEAL, MIDDLES, random);
    // The end margin alone: rows at the strip's ends cover ground inside and outside.
    for (const error of errors(harvest, { ...NO_SCREENS, endMarginM: 5 })) {
      expect(Math.abs(error)).toBeLessThan(1e-9);
    }
  });
});

describe('strip values of simulated harvests', () => {
  const seeds = [101, 102, 103, 104, 105, 106, 107, 108, 109, 110];
  const harvests = seeds.map((seed) => {
    const random = seededRandom(seed);
    return simulateHarvest(simulateField(FIELD, random), REAL, [...MIDDLES, ...BETWEEN], random);
  });

  it('screened come nearer to the known yields than all points in the strip, over ten seeds', () => {
    const raw = rms(harvests.flatMap((harvest) => errors(harvest, NO_SCREENS)));
    const screened = rms(harvests.flatMap((harvest) => errors(harvest, {})));
    expect(screened).toBeLessThan(raw / 3);
    expect(screened).toBeLessThan(0.015);
  });

  it('screened come nearer also where each strip was cut by one full pass alone', () => {
    const whole = seeds.map((seed) => {
      const random = seededRandom(seed);
      return simulateHarvest(simulateField(FIELD, random), REAL, MIDDLES, random);
    });
    const raw = rms(whole.flatMap((harvest) => errors(harvest, NO_SCREENS)));
    const screened = rms(whole.flatMap((harvest) => errors(harvest, {})));
    expect(screened).toBeLessThan(raw);
  });

  it('still late by the whole lag come nearer when it is moved back', () => {
    const late = seeds.map((seed) => {
      const random = seededRandom(seed);
      const machine = { ...REAL, lagTakenOutS: 0 };
      return simulateHarvest(simulateField(FIELD, random), machine, MIDDLES, random);
    });
    const asLogged = rms(late.flatMap((harvest) => errors(harvest, {})));
    const movedBack = rms(late.flatMap((harvest) => errors(harvest, { shiftLagS: 10 })));
    expect(movedBack).toBeLessThan(asLogged);
  });
});
