import type { PlacedFile } from './placed-file.ts';
import type { PointGround } from './point-ground.ts';

/** 0 trusted, 1 the same place again although the machine drove, 2 farther off than it can have driven. */
export type PositionFaults = Uint8Array;
export const REPEATED = 1;
export const JUMPED = 2;

const SAME_PLACE_M = 0.01;
const DROVE_M = 0.5;
/** A position may lie off by this much, and the way driven may be recorded short by this factor. */
const SLACK_M = 3;
const SLACK_FACTOR = 1.5;
/** After so many points in a row off the old track the receiver has found itself anew, and is believed again. */
const FOUND_ANEW_POINTS = 10;

/**
 * Which positions contradict what the machine drove by its own record? Compares each with the last trusted one of
 * the same run. null where neither distance nor speed with time is recorded, so that there is nothing to compare.
 */
export function positionFaults(
  { eastM, northM, interval: { run } }: Pick<PlacedFile, 'eastM' | 'northM' | 'interval'>,
  { drivenM }: PointGround,
): PositionFaults | null {
  if (drivenM === null) return null;
  const faults = new Uint8Array(eastM.length);
  let trusted = 0;
  let sinceM = 0;
  for (let i = 1; i < faults.length; i++) {
    const driven = drivenM[i]!;
    const isFresh = run[i] !== run[i - 1] || i - trusted > FOUND_ANEW_POINTS || Number.isNaN(driven);
    if (!isFresh) {
      sinceM += driven;
      const awayM = distanceM(eastM, northM, i, trusted);
      if (awayM > SLACK_M + SLACK_FACTOR * sinceM) {
        faults[i] = JUMPED;
        continue;
      }
      if (driven > DROVE_M && distanceM(eastM, northM, i, i - 1) < SAME_PLACE_M) faults[i] = REPEATED;
    }
    trusted = i;
    sinceM = 0;
  }
  return faults;
}

function distanceM(eastM: Float64Array, northM: Float64Array, i: number, j: number): number {
  const [east, north] = [eastM[i]! - eastM[j]!, northM[i]! - northM[j]!];
  return Math.sqrt(east * east + north * north);
}
