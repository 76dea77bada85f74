import type { HarvestPointsInput } from './harvest-input.ts';
import type { LoggingInterval } from './logging-interval.ts';

/**
 * The ground that each point stands for. 'area': m², width times distance; 'relative': in proportion to the area,
 * the unit not known (no width, or speed without time); 'equal': neither distance nor speed, all points weigh 1.
 */
export interface PointGround {
  readonly kind: 'area' | 'relative' | 'equal';
  readonly isWidthKnown: boolean;
  /** NaN where this point's own distance or speed is missing. */
  readonly ground: Float64Array;
  /** Driven since the point before, in metres; null where neither distance nor speed with time is known. */
  readonly drivenM: Float64Array | null;
}

export function pointGround(
  input: HarvestPointsInput,
  interval: LoggingInterval,
  headerM: number | null,
): PointGround {
  const { distanceM, speedMPerS, widthM, count } = input;
  const ground = new Float64Array(count).fill(1);
  const isWidthKnown = headerM !== null;
  if (distanceM === null && speedMPerS === null)
    return { kind: 'equal', isWidthKnown, ground, drivenM: null };
  const isScaled = distanceM !== null || input.timeS !== null;
  const drivenM = drivenOf(input, interval);
  for (let i = 0; i < count; i++) {
    const recorded = widthM?.[i] ?? Number.NaN;
    const width = recorded > 0 ? recorded : (headerM ?? 1);
    ground[i] = width * drivenM[i]!;
  }
  const kind = isWidthKnown && isScaled ? 'area' : 'relative';
  return { kind, isWidthKnown, ground, drivenM: isScaled ? drivenM : null };
}

/** The recorded distances themselves, where none is missing. */
function drivenOf(input: HarvestPointsInput, interval: LoggingInterval): Float64Array {
  const { distanceM, count } = input;
  if (distanceM !== null && isAllDriven(distanceM)) return distanceM;
  const driven = new Float64Array(count);
  for (let i = 0; i < count; i++) driven[i] = drivenTo(input, interval, i);
  return driven;
}

function isAllDriven(distanceM: Float64Array): boolean {
  for (let i = 0; i < distanceM.length; i++) {
    if (!(distanceM[i]! >= 0 && distanceM[i]! < Number.POSITIVE_INFINITY)) return false;
  }
  return true;
}

/** Recorded distance, else speed times interval; never below 0. */
function drivenTo(input: HarvestPointsInput, interval: LoggingInterval, i: number): number {
  const recorded = input.distanceM?.[i] ?? Number.NaN;
  const driven = Number.isFinite(recorded)
    ? recorded
    : (input.speedMPerS?.[i] ?? Number.NaN) * interval.secondsAt(i);
  return driven >= 0 ? driven : Number.NaN;
}

/** Speed as recorded, else distance over time; null where neither can be had. */
export function pointSpeed(input: HarvestPointsInput, interval: LoggingInterval): Float64Array | null {
  if (input.speedMPerS !== null) return input.speedMPerS;
  const distance = input.distanceM;
  if (distance === null || input.timeS === null) return null;
  return Float64Array.from(distance, (driven, i) => driven / interval.secondsAt(i));
}
