import { type DriveStep, drive, STEP_S } from './drive-plan.ts';
import type { SeededRandom } from './seeded-random.ts';
import type { SimulatedField } from './simulated-field.ts';
import { StandingCrop } from './standing-crop.ts';

/**
 * One seeded combine for tests and demo. Specification:
 *
 * 1. The field (`simulated-field.ts`) has strips of known yield at standard moisture and of known moisture.
 * 2. The machine drives its passes in the order given, back and forth, with half circles on a headland without
 *    crop (`drive-plan.ts`). Speed wanders about its cruising value; there may be slow stretches, stops, lifts.
 * 3. In each step of 0.2 s the lowered header cuts what still stands beneath it: the sum over the strips that it
 *    covers of wet yield times covered width times distance. Ground once cut bears nothing for a later pass.
 * 4. Grain and its water reach the sensor after the transit lag, smeared by a first-order mixing of time constant
 *    `mixingS`: entry and exit ramps follow from that alone. No grain is lost or made.
 * 5. Once a second a row is written: position with drift and jitter of the receiver, speed, distance, heading,
 *    recorded width, header state, flow with its relative noise, moisture with its noise. Sensor spikes multiply
 *    the flow by 3 to 6 or make it 0; moisture spikes read 0 or 100.
 * 6. Flow and moisture are written `lagTakenOutS` earlier than they were sensed, as most monitors export them.
 */
export interface MachineSpecification {
  readonly headerM: number;
  readonly speedMPerS: number;
  readonly speedWanderShare: number;
  readonly lagS: number;
  readonly mixingS: number;
  /** Whole seconds. */
  readonly lagTakenOutS: number;
  readonly driftM: number;
  readonly jitterM: number;
  readonly flowNoiseShare: number;
  readonly moistureNoisePercent: number;
  /** 'header': the header's width always; 'cut': what was really cut, to a tenth of the header. */
  readonly recordedWidth: 'header' | 'cut';
  readonly faults: FaultSpecification;
}

export interface FaultSpecification {
  readonly slowdownsPerPass: number;
  readonly stopsPerPass: number;
  readonly liftsPerPass: number;
  readonly turnsWithHeaderDownShare: number;
  readonly flowSpikeShare: number;
  readonly moistureSpikeShare: number;
}

export interface SimulatedRow {
  readonly timeS: number;
  readonly eastM: number;
  readonly northM: number;
  readonly speedMPerS: number;
  readonly distanceM: number;
  readonly headingDegrees: number;
  readonly widthM: number;
  readonly headerDown: 0 | 1;
  readonly massFlowKgPerS: number;
  readonly moisturePercent: number;
}

export interface SimulatedHarvest {
  readonly rows: readonly SimulatedRow[];
  /** Wet grain cut, sensed, and still in the machine at the end, before any noise. */
  readonly cutKg: number;
  readonly sensedKg: number;
  readonly inMachineKg: number;
}

export function simulateHarvest(
  field: SimulatedField,
  machine: MachineSpecification,
  passesEastM: readonly number[],
  random: SeededRandom,
): SimulatedHarvest {
  const crop = new StandingCrop(field.widthM);
  const grain = new GrainStream(machine);
  const receiver = new Receiver(machine, random);
  const states: LoggedState[] = [];
  let met: readonly StripCut[] = [];
  let pass = -2;
  let step = 0;
  let drivenM = 0;
  for (const at of drive(passesEastM, field.specification.stripLengthM, machine, random)) {
    if (at.pass !== pass) {
      pass = at.pass;
      met =
        pass < 0
          ? []
          : cutsByStrip(field, crop.cut(at.eastM - machine.headerM / 2, at.eastM + machine.headerM / 2));
    }
    drivenM += at.speedMPerS * STEP_S;
    grain.step(...cutInStep(field, at, met));
    step += 1;
    if (step % STEPS_A_ROW !== 0) continue;
    states.push({
      at,
      position: receiver.fix(at),
      drivenM,
      cutM: at.isHeaderDown ? widthOf(met) : 0,
      ...grain.takeReading(),
    });
    drivenM = 0;
  }
  return { rows: written(states, machine, random), ...grain.balance() };
}

const STEPS_A_ROW = Math.round(1 / STEP_S);

interface StripCut {
  readonly strip: number;
  readonly widthM: number;
}

function cutsByStrip(field: SimulatedField, met: readonly (readonly [number, number])[]): StripCut[] {
  const { stripWidthM, yieldKgPerHa } = field.specification;
  return met.flatMap(([west, east]) =>
    yieldKgPerHa.flatMap((_, strip) => {
      const widthM = Math.min(east, (strip + 1) * stripWidthM) - Math.max(west, strip * stripWidthM);
      return widthM > 0 ? [{ strip, widthM }] : [];
    }),
  );
}

function widthOf(met: readonly StripCut[]): number {
  return met.reduce((sum, { widthM }) => sum + widthM, 0);
}

/** Wet grain and the water in it, kg. */
function cutInStep(field: SimulatedField, at: DriveStep, met: readonly StripCut[]): [number, number] {
  if (!at.isHeaderDown) return [0, 0];
  let wetKg = 0;
  let waterKg = 0;
  for (const { strip, widthM } of met) {
    const kg = field.wetYieldKgPerM2(strip, at.northM) * widthM * at.speedMPerS * STEP_S;
    wetKg += kg;
    waterKg += kg * field.moistureShare(strip);
  }
  return [wetKg, waterKg];
}

/** Delay, then a mixing tank from which a fixed share flows out in each step. */
class GrainStream {
  readonly #delayed: (readonly [number, number])[];
  readonly #outShare: number;
  #tank: [number, number] = [0, 0];
  #reading = { wetKg: 0, waterKg: 0 };
  #cutKg = 0;
  #sensedKg = 0;

  constructor({ lagS, mixingS }: MachineSpecification) {
    this.#delayed = Array.from({ length: Math.round(lagS / STEP_S) }, () => [0, 0]);
    this.#outShare = mixingS > 0 ? -Math.expm1(-STEP_S / mixingS) : 1;
  }

  step(wetKg: number, waterKg: number): void {
    this.#cutKg += wetKg;
    this.#delayed.push([wetKg, waterKg]);
    const [wetIn, waterIn] = this.#delayed.shift() ?? [0, 0];
    const wet = this.#tank[0] + wetIn;
    const water = this.#tank[1] + waterIn;
    const [wetOut, waterOut] = [wet * this.#outShare, water * this.#outShare];
    this.#tank = [wet - wetOut, water - waterOut];
    this.#reading.wetKg += wetOut;
    this.#reading.waterKg += waterOut;
    this.#sensedKg += wetOut;
  }

  takeReading(): { wetKg: number; waterKg: number } {
    const reading = this.#reading;
    this.#reading = { wetKg: 0, waterKg: 0 };
    return reading;
  }

  balance(): { cutKg: number; sensedKg: number; inMachineKg: number } {
    const delayedKg = this.#delayed.reduce((sum, [wet]) => sum + wet, 0);
    return { cutKg: this.#cutKg, sensedKg: this.#sensedKg, inMachineKg: delayedKg + this.#tank[0] };
  }
}

/** Position with a drift that wanders over about a minute and a jitter from fix to fix. */
class Receiver {
  readonly #machine: MachineSpecification;
  readonly #random: SeededRandom;
  #driftEast = 0;
  #driftNorth = 0;

  constructor(machine: MachineSpecification, random: SeededRandom) {
    this.#machine = machine;
    this.#random = random;
  }

  fix({ eastM, northM }: DriveStep): readonly [number, number] {
    const { driftM, jitterM } = this.#machine;
    const keep = Math.exp(-1 / 60);
    const innovation = driftM * Math.sqrt(1 - keep ** 2);
    this.#driftEast = keep * this.#driftEast + innovation * this.#random.normal();
    this.#driftNorth = keep * this.#driftNorth + innovation * this.#random.normal();
    return [
      eastM + this.#driftEast + jitterM * this.#random.normal(),
      northM + this.#driftNorth + jitterM * this.#random.normal(),
    ];
  }
}

interface LoggedState {
  readonly at: DriveStep;
  readonly position: readonly [number, number];
  readonly drivenM: number;
  readonly cutM: number;
  readonly wetKg: number;
  readonly waterKg: number;
}

/** With less grain than this the moisture sensor holds its last reading. */
const LEAST_SENSED_KG = 0.05;

function moistureOf(state: LoggedState | undefined): number {
  return state === undefined ? 0 : (100 * state.waterKg) / state.wetKg;
}

function written(
  states: readonly LoggedState[],
  machine: MachineSpecification,
  random: SeededRandom,
): SimulatedRow[] {
  const { headerM, lagTakenOutS, faults } = machine;
  // Before the first grain the sensor shows what it will show then.
  let lastMoisture = moistureOf(states.find(({ wetKg }) => wetKg > LEAST_SENSED_KG));
  return states.flatMap(({ at, position, drivenM, cutM }, timeS) => {
    const sensed = states[timeS + lagTakenOutS];
    if (sensed === undefined) return [];
    if (sensed.wetKg > LEAST_SENSED_KG) lastMoisture = moistureOf(sensed);
    const noisyFlow = sensed.wetKg * Math.max(0, 1 + machine.flowNoiseShare * random.normal());
    const noisyMoisture = Math.max(0, lastMoisture + machine.moistureNoisePercent * random.normal());
    const spike = random.chance(0.5) ? random.between(3, 6) : 0;
    const wrongMoisture = random.chance(0.5) ? 0 : 100;
    const tenth = headerM / 10;
    const cutWidth = cutM === 0 ? headerM : Math.max(tenth, Math.round(cutM / tenth) * tenth);
    return [
      {
        timeS,
        eastM: position[0],
        northM: position[1],
        speedMPerS: drivenM,
        distanceM: drivenM,
        headingDegrees: (at.headingDegrees + 360) % 360,
        widthM: machine.recordedWidth === 'cut' ? cutWidth : headerM,
        headerDown: at.isHeaderDown ? 1 : 0,
        massFlowKgPerS: random.chance(faults.flowSpikeShare) ? noisyFlow * spike : noisyFlow,
        moisturePercent: random.chance(faults.moistureSpikeShare) ? wrongMoisture : noisyMoisture,
      },
    ];
  });
}
