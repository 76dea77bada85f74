import { localProjection } from '../geometry/local-projection.ts';
import type { LoggedPoints } from './application-log.ts';

/** Below this a machine stands, and a flow over its speed says nothing. */
const STANDING_M_PER_S = 0.2;
/** Speeds from places are taken over at least this long to either side, so that the receiver's jitter stays small. */
const REACH_S = 1;
/** A longer step in time than this many usual ones is a break in the log. */
const BREAK_STEPS = 5;
const M2_PER_HA = 10_000;

/** In units per hectare; NaN where the machine stood or its speed or width is not known. */
export interface RatesFromFlow {
  readonly ratePerHa: Float64Array;
  /** Rows with a flow and no rate. */
  readonly standing: number;
}

/**
 * What rate per area does a flow per time come to? Rate = flow / (speed × width), the width being that of the parts
 * that were on where the log knows them. A flow of 0 is a rate of 0 at any speed.
 */
export function ratesFromFlow(
  flowPerS: Float64Array,
  speedMPerS: Float64Array,
  { widthM, parts }: LoggedPoints,
): RatesFromFlow {
  let standing = 0;
  const ratePerHa = flowPerS.map((flow, i) => {
    if (!(flow > 0)) return flow;
    const on = parts?.[i]?.reduce((sum, part) => sum + part.widthM, 0) ?? widthM[i]!;
    const speed = speedMPerS[i]!;
    const isMoving = speed >= STANDING_M_PER_S && on > 0;
    if (!isMoving) standing += 1;
    return isMoving ? (M2_PER_HA * flow) / (speed * on) : Number.NaN;
  });
  return { ratePerHa, standing };
}

/**
 * Speed at each point, from the way between the points about a second before and after it over their times. Steps
 * across breaks of the log are not driven. null: there are no times.
 */
export function speedsOnTrack({ longitude, latitude, timeS }: LoggedPoints): Float64Array | null {
  if (timeS === null) return null;
  const order = [...timeS.keys()].filter((i) => Number.isFinite(timeS[i]! + longitude[i]! + latitude[i]!));
  order.sort((a, b) => timeS[a]! - timeS[b]! || a - b);
  const steps = order.slice(1).map((i, k) => timeS[i]! - timeS[order[k]!]!);
  const usualS = middleOf(steps.filter((step) => step > 0));
  const speeds = new Float64Array(timeS.length).fill(Number.NaN);
  const [first] = order;
  if (usualS === null || first === undefined) return null;
  const { toLocal } = localProjection({
    originLongitude: longitude[first]!,
    originLatitude: latitude[first]!,
  });
  const places = order.map((i) => toLocal(longitude[i]!, latitude[i]!));
  const way = steps.map((stepS, k) => {
    const [a, b] = [places[k]!, places[k + 1]!];
    return stepS > BREAK_STEPS * usualS ? Number.NaN : Math.hypot(b[0] - a[0], b[1] - a[1]);
  });
  order.forEach((i, k) => {
    let [from, to, lengthM] = [k, k, 0];
    const at = (place: number) => timeS[order[place]!]!;
    while (from > 0 && at(k) - at(from) < REACH_S && !Number.isNaN(way[from - 1])) lengthM += way[--from]!;
    while (to < way.length && at(to) - at(k) < REACH_S && !Number.isNaN(way[to])) lengthM += way[to++]!;
    const tookS = at(to) - at(from);
    if (tookS > 0) speeds[i] = lengthM / tookS;
  });
  return speeds;
}

function middleOf(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? null;
}
