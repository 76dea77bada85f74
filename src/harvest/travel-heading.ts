import { inDegrees } from '../geometry/angle.ts';

/** The track is read over at least this far on each side, so that the receiver's jitter does not turn it. */
const REACH_M = 3;
const REACH_POINTS = 60;
/** A machine that came no farther than this in all those points stood still: its direction is the receiver's jitter. */
const STANDING_M = 0.5;

/**
 * Direction of travel in degrees clockwise from grid north, from the positions of the same run; NaN where the
 * machine did not move. Serves files that record no heading.
 */
export function headingFromTrack(eastM: Float64Array, northM: Float64Array, run: Int32Array): Float64Array {
  const heading = new Float64Array(eastM.length);
  for (let i = 0; i < heading.length; i++) {
    const from = reach(eastM, northM, run, i, -1);
    const to = reach(eastM, northM, run, i, 1);
    const east = eastM[to]! - eastM[from]!;
    const north = northM[to]! - northM[from]!;
    const isStanding = east * east + north * north < STANDING_M * STANDING_M;
    heading[i] = isStanding ? Number.NaN : inDegrees(Math.atan2(east, north));
  }
  return heading;
}

function reach(eastM: Float64Array, northM: Float64Array, run: Int32Array, i: number, step: 1 | -1): number {
  let at = i;
  for (let n = 0; n < REACH_POINTS; n++) {
    const next = at + step;
    if (next < 0 || next >= run.length || run[next] !== run[i] || Number.isNaN(eastM[next]!)) break;
    at = next;
    const east = eastM[at]! - eastM[i]!;
    const north = northM[at]! - northM[i]!;
    if (east * east + north * north >= REACH_M * REACH_M) break;
  }
  return at;
}

/** Smallest turn between two headings, 0 to 180 degrees. */
export function turnBetween(a: number, b: number): number {
  const apart = Math.abs(a - b);
  // Most lie within one turn, and the remainder is slow.
  const turn = apart < 360 ? apart : apart % 360;
  return turn > 180 ? 360 - turn : turn;
}
