import { usualStep } from './usual-step.ts';

/** What became of rows without a time. */
export interface MissingTimes {
  /** Rows whose time follows from their neighbours', and was put there. */
  readonly filled: number;
  readonly left: number;
  /** Index of the first that is left; -1: none. */
  readonly firstLeft: number;
}

/** The pause over missing rows may differ from as many usual steps by this share. */
const STEADY_SHARE = 0.3;

/**
 * Fills in times where they follow: rows between two times that lie just as many usual steps apart stand evenly between
 * them. Changes `timeS` in place; all else stays unknown, since a pause there could have been anywhere.
 */
export function fillMissingTimes(timeS: Float64Array): MissingTimes {
  const usualS = usualStep(timeS);
  let [filled, left, firstLeft, before] = [0, 0, -1, -1];
  const leave = (from: number, to: number) => {
    if (to > from && firstLeft < 0) firstLeft = from;
    left += to - from;
  };
  for (let i = 0; i < timeS.length; i += 1) {
    if (Number.isNaN(timeS[i])) continue;
    const steps = i - before;
    const pauseS = before < 0 ? Number.NaN : timeS[i]! - timeS[before]!;
    if (steps > 1 && usualS !== null && Math.abs(pauseS - steps * usualS) <= STEADY_SHARE * usualS) {
      for (let k = 1; k < steps; k += 1) timeS[before + k] = timeS[before]! + (k * pauseS) / steps;
      filled += steps - 1;
    } else leave(before + 1, i);
    before = i;
  }
  leave(before + 1, timeS.length);
  return { filled, left, firstLeft };
}
