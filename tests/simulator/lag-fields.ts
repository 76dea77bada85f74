import { estimateLag, type LagAnswer } from '../../src/harvest/estimate-lag.ts';
import { ALREADY_STANDARD, pointsFile, trialOfStrips } from '../harvest/field-of-strips.ts';
import { type MachineSpecification, simulateHarvest } from './combine-simulator.ts';
import { seededRandom } from './seeded-random.ts';
import { simulateField } from './simulated-field.ts';

/**
 * Fields to judge the estimate of transit lag on, drawn from a seed: 16 strips as wide as the header and 300 to 500 m
 * long, two treatments 12 % apart in the order of chance, one pass each, back and forth. Drawn evenly: range of the
 * ground 30 to 100 m, its CV along the pass 8 to 20 %, mixing 1 to 3 s, what is left of the lag after export -10 to
 * 12 s, speed 1.4 to 2.2 m/s wandering by 6 %; flow noise 4 %, drift 0.3 m, slow stretches, stops, lifts, spikes.
 */
export interface LagField {
  /** Mean delay that is left in the file: transit and mixing less what the export took out. */
  readonly delayS: number;
  readonly answer: LagAnswer;
}

const STRIPS = 16;

export function lagField(seed: number, ground: 'patchy' | 'whiteNoise'): LagField {
  const random = seededRandom(seed);
  const headerM = random.between(6, 10);
  const lengthM = Math.round(random.between(300, 500));
  const mixingS = random.between(1, 3);
  const lagTakenOutS = random.chance(0.5) ? 0 : 12;
  const lagS = lagTakenOutS === 0 ? random.between(6, 10) : random.between(3, 14);
  const machine: MachineSpecification = {
    headerM,
    speedMPerS: random.between(1.4, 2.2),
    speedWanderShare: 0.06,
    lagS,
    mixingS,
    lagTakenOutS,
    driftM: 0.3,
    jitterM: 0.05,
    flowNoiseShare: 0.04,
    moistureNoisePercent: 0.15,
    recordedWidth: 'header',
    faults: {
      slowdownsPerPass: 0.3,
      stopsPerPass: 0.1,
      liftsPerPass: 0.1,
      turnsWithHeaderDownShare: 0.3,
      flowSpikeShare: 0.003,
      moistureSpikeShare: 0.002,
    },
  };
  const field = simulateField(
    {
      stripWidthM: headerM,
      stripLengthM: lengthM,
      yieldKgPerHa: Array.from({ length: STRIPS }, () => (random.chance(0.5) ? 6000 : 6700)),
      moisturePercent: Array.from({ length: STRIPS }, () => 15),
      standardMoisturePercent: 15,
      patchShare: random.between(0.08, 0.2),
      groundRangeM: ground === 'patchy' ? random.between(30, 100) : 0,
    },
    random,
  );
  const middles = Array.from({ length: STRIPS }, (_, s) => (s + 0.5) * headerM);
  const { rows } = simulateHarvest(field, machine, middles, random);
  const file = pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
  const estimate = estimateLag(trialOfStrips(STRIPS, headerM, lengthM), [file]);
  if (!estimate.ok) throw new Error(JSON.stringify(estimate.problems));
  return { delayS: lagS + mixingS - lagTakenOutS, answer: estimate.value[0]!.flow };
}

export interface LagTally {
  readonly fields: number;
  readonly answers: number;
  readonly within1S: number;
  readonly covered: number;
}

export function tallyLags(seeds: readonly number[], ground: 'patchy' | 'whiteNoise'): LagTally {
  const tally = { fields: 0, answers: 0, within1S: 0, covered: 0 };
  for (const seed of seeds) {
    const { delayS, answer } = lagField(seed, ground);
    tally.fields += 1;
    if (answer.kind !== 'lag') continue;
    tally.answers += 1;
    if (Math.abs(answer.lagS - delayS) <= 1) tally.within1S += 1;
    if (delayS >= answer.lowerS && delayS <= answer.upperS) tally.covered += 1;
  }
  return tally;
}
