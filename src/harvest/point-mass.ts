import { M2_PER_HA } from '../trial/units.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { shiftedBack } from './lag-shift.ts';
import type { LoggingInterval } from './logging-interval.ts';
import type { OwnOfFile } from './own-of-file.ts';
import type { PointGround } from './point-ground.ts';

/**
 * What was harvested at each point, as recorded (moisture not yet taken out) and with the lag moved back.
 * `mass` is in kg where the ground is an area in m², else in the same proportion; `yieldKgPerHa` is mass over
 * ground, NaN where a point has no reading, or mass without ground (standing still).
 */
export interface PointMass {
  /** null: the yield times the ground, where the file records yields per area that need no shift. */
  readonly mass: Float64Array | null;
  readonly yieldKgPerHa: Float64Array;
  readonly moisturePercent: Float64Array | null;
}

/** Why masses cannot be had: what is missing. */
export interface MassUnknown {
  readonly missing: 'yield' | 'width' | 'distance' | 'time';
}

/**
 * The yield per area comes first where the file has it, since the user's answers on moisture and lag are about that
 * column; else the flow times the interval, else the mass since the point before.
 */
export function pointMass(
  input: HarvestPointsInput,
  interval: LoggingInterval,
  ground: PointGround,
  { flowShiftS, moistureShiftS }: Pick<OwnOfFile, 'flowShiftS' | 'moistureShiftS'>,
): PointMass | MassUnknown {
  const { timeS } = input;
  const isMoistureMoved = moistureShiftS !== 0 && timeS !== null && input.moisturePercent !== null;
  const moisturePercent = isMoistureMoved
    ? shiftedBack(input.moisturePercent, timeS, interval.run, moistureShiftS)
    : input.moisturePercent;
  if (input.yieldKgPerHa !== null && (flowShiftS === 0 || timeS === null)) {
    return { mass: null, yieldKgPerHa: input.yieldKgPerHa, moisturePercent };
  }
  const recorded = recordedMass(input, interval, ground);
  if ('missing' in recorded) return recorded;
  if (flowShiftS === 0 || timeS === null) {
    return { mass: recorded, yieldKgPerHa: perArea(recorded, ground.ground), moisturePercent };
  }
  const flow = recorded.map((mass, i) => mass / interval.secondsAt(i));
  const mass = shiftedBack(flow, timeS, interval.run, flowShiftS).map(
    (kgPerS, i) => kgPerS * interval.secondsAt(i),
  );
  return { mass, yieldKgPerHa: perArea(mass, ground.ground), moisturePercent };
}

export function isMassUnknown(result: PointMass | MassUnknown): result is MassUnknown {
  return 'missing' in result;
}

function recordedMass(
  input: HarvestPointsInput,
  interval: LoggingInterval,
  { kind, isWidthKnown, ground }: PointGround,
): Float64Array | MassUnknown {
  const { yieldKgPerHa, massFlowKgPerS, massKg } = input;
  if (yieldKgPerHa !== null) return yieldKgPerHa.map((value, i) => (value * ground[i]!) / M2_PER_HA);
  if (massFlowKgPerS === null && massKg === null) return { missing: 'yield' };
  if (kind === 'equal') return { missing: 'distance' };
  if (!isWidthKnown) return { missing: 'width' };
  if (massFlowKgPerS !== null) return massByFlow(input, interval, massFlowKgPerS);
  return kind === 'relative' || massKg === null ? { missing: 'time' } : massKg;
}

/** Without time the interval is distance over speed; without distance too it cancels between mass and ground. */
function massByFlow(
  input: HarvestPointsInput,
  interval: LoggingInterval,
  flow: Float64Array,
): Float64Array | MassUnknown {
  const { timeS, distanceM, speedMPerS } = input;
  if (timeS !== null || distanceM === null) return flow.map((kgPerS, i) => kgPerS * interval.secondsAt(i));
  if (speedMPerS === null) return { missing: 'time' };
  return flow.map((kgPerS, i) =>
    speedMPerS[i]! > 0 ? (kgPerS * distanceM[i]!) / speedMPerS[i]! : Number.NaN,
  );
}

function perArea(mass: Float64Array, ground: Float64Array): Float64Array {
  return mass.map((kg, i) => (ground[i]! > 0 ? (kg / ground[i]!) * M2_PER_HA : Number.NaN));
}
