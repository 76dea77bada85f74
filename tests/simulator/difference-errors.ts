import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import type { HarvestSettings, TrialDocument } from '../../src/trial/trial-document.ts';
import { ALREADY_STANDARD, pointsFile, trialOfStrips, withSettings } from '../harvest/field-of-strips.ts';
import { type MachineSpecification, simulateHarvest } from './combine-simulator.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';
import { type FieldSpecification, simulateField } from './simulated-field.ts';

/**
 * How wrong is the difference between two treatments, as a share of the yield? Twelve strips of 12 m by 300 m in six
 * blocks, treatments drawn by lot in each, 12 % and 0.8 % moisture apart; a 9 m header up each middle, then the bands
 * left between, which straddle two strips; 9 of 10 s of lag taken out, mixing 2 s, all faults of the machine.
 */
export interface DifferenceError {
  /** By default screens and footprints, and by all points that lie in each strip. */
  readonly screened: number;
  readonly unscreened: number;
}

const STRIPS = 12;
export const MACHINE: MachineSpecification = {
  headerM: 9,
  speedMPerS: 1.8,
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

export function differenceError(seed: number): DifferenceError {
  const random = seededRandom(seed);
  const isTreated = treatedStrips(random);
  const specification: FieldSpecification = {
    stripWidthM: 12,
    stripLengthM: 300,
    yieldKgPerHa: isTreated.map((treated, s) => (treated ? 6720 : 6000) + 100 * Math.floor(s / 2)),
    moisturePercent: isTreated.map((treated) => (treated ? 15.8 : 15)),
    standardMoisturePercent: 15,
    patchShare: 0.06,
  };
  const middles = isTreated.map((_, s) => 12 * s + 6);
  const between = Array.from({ length: STRIPS + 1 }, (_, s) => 12 * s).reverse();
  const field = simulateField(specification, random);
  const { rows } = simulateHarvest(field, MACHINE, [...middles, ...between], random);
  const file = pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
  const trial = trialOfStrips(STRIPS, 12, 300);
  const errorWith = (settings: Partial<HarvestSettings>) =>
    (differenceOf(withSettings(trial, settings), file, isTreated) - 720) / 6360;
  return { screened: errorWith({}), unscreened: unscreenedDifference(rows, isTreated) / 6360 - 720 / 6360 };
}

/** One of each pair, by lot. */
export function treatedStrips(random: SeededRandom): readonly boolean[] {
  return Array.from({ length: STRIPS / 2 }, () => random.chance(0.5)).flatMap((first) => [first, !first]);
}

function differenceOf(
  trial: TrialDocument,
  file: ReturnType<typeof pointsFile>,
  isTreated: readonly boolean[],
): number {
  const outcome = harvestPoints(trial, [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return meanDifference(
    outcome.value.strips.map(({ values }) => values.yield ?? Number.NaN),
    isTreated,
  );
}

/** Point in polygon and nothing else: dry mass over ground of every row whose position lies in the strip. */
function unscreenedDifference(
  rows: readonly Parameters<typeof pointsFile>[0][number][],
  isTreated: readonly boolean[],
): number {
  const mass = new Float64Array(STRIPS);
  const ground = new Float64Array(STRIPS);
  for (const row of rows) {
    const strip = Math.floor(row.eastM / 12);
    if (strip < 0 || strip >= STRIPS || row.northM < 0 || row.northM >= 300) continue;
    mass[strip]! += ((row.massFlowKgPerS ?? 0) * (100 - (row.moisturePercent ?? 0))) / 85;
    ground[strip]! += ((row.distanceM ?? 0) * (row.widthM ?? 0)) / 10_000;
  }
  return meanDifference(
    Array.from(mass, (kg, s) => kg / ground[s]!),
    isTreated,
  );
}

export function meanDifference(values: readonly number[], isTreated: readonly boolean[]): number {
  const mean = (wanted: boolean) => {
    const own = values.filter((_, s) => isTreated[s] === wanted);
    return own.reduce((sum, value) => sum + value, 0) / own.length;
  };
  return mean(true) - mean(false);
}

export interface DifferenceTally {
  readonly fields: number;
  readonly screenedRms: number;
  readonly unscreenedRms: number;
  /** Mean error of the screened differences, and its standard error. */
  readonly bias: number;
  readonly biasError: number;
}

export function tallyDifferences(seeds: readonly number[]): DifferenceTally {
  const errors = seeds.map(differenceError);
  const rms = (values: readonly number[]) =>
    Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
  const screened = errors.map((error) => error.screened);
  const bias = screened.reduce((sum, error) => sum + error, 0) / screened.length;
  return {
    fields: seeds.length,
    screenedRms: rms(screened),
    unscreenedRms: rms(errors.map((error) => error.unscreened)),
    bias,
    biasError: rms(screened.map((error) => error - bias)) / Math.sqrt(screened.length),
  };
}
