import { expect, it } from 'vitest';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import {
  ALREADY_STANDARD,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from '../harvest/field-of-strips.ts';
import { simulateHarvest } from './combine-simulator.ts';
import { MACHINE, meanDifference, treatedStrips } from './difference-errors.ts';
import { seededRandom } from './seeded-random.ts';
import { simulateField } from './simulated-field.ts';

/**
 * Strips of 20 m cut by two passes of a 9 m header, with all faults of the machine, and sometimes with six stretches of
 * 25 s over the field in which the sensor reads four tenths: does holding yields against the pass beside bring treatment
 * differences nearer to the truth (720 kg/ha), and does it harm where nothing is blocked? Seeds not used while tuning.
 */
const STRIPS = 12;
const WIDTH_M = 20;
const SEEDS = Array.from({ length: 20 }, (_, k) => 9700 + k);

function errorsOf(seed: number, isBlocked: boolean) {
  const random = seededRandom(seed);
  const isTreated = treatedStrips(random);
  const field = simulateField(
    {
      stripWidthM: WIDTH_M,
      stripLengthM: 300,
      yieldKgPerHa: isTreated.map((treated, s) => (treated ? 6720 : 6000) + 100 * Math.floor(s / 2)),
      moisturePercent: isTreated.map((treated) => (treated ? 15.8 : 15)),
      standardMoisturePercent: 15,
      patchShare: 0.06,
    },
    random,
  );
  const lanes = isTreated.flatMap((_, s) => [WIDTH_M * s + 5, WIDTH_M * s + 15]);
  const { rows } = simulateHarvest(field, MACHINE, lanes, random);
  const logged: PointRow[] = [...rows];
  for (let n = 0; isBlocked && n < 6; n++) {
    const first = Math.floor(random.between(0, rows.length - 25));
    for (let i = first; i < first + 25; i++)
      logged[i] = { ...logged[i]!, massFlowKgPerS: 0.4 * (logged[i]!.massFlowKgPerS ?? Number.NaN) };
  }
  const file = pointsFile(logged, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
  const errorWith = (acrossScreen: boolean) => {
    const outcome = harvestPoints(withSettings(trialOfStrips(STRIPS, WIDTH_M, 300), { acrossScreen }), [
      file,
    ]);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const yields = outcome.value.strips.map(({ values }) => values.yield ?? Number.NaN);
    return (meanDifference(yields, isTreated) - 720) / 6360;
  };
  return { across: errorWith(true), alongAlone: errorWith(false) };
}

const rms = (errors: readonly number[]) =>
  Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);

it('blocked stretches cost less than half, and without any nothing is lost', () => {
  const [blocked, whole] = [true, false].map((isBlocked) => SEEDS.map((seed) => errorsOf(seed, isBlocked)));
  const errors = (of: typeof blocked, which: 'across' | 'alongAlone') => rms(of!.map((one) => one[which]));
  expect(errors(blocked, 'across')).toBeLessThan(0.5 * errors(blocked, 'alongAlone'));
  expect(errors(whole, 'across')).toBeLessThan(1.05 * errors(whole, 'alongAlone'));
});
