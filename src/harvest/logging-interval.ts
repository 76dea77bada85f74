import { quickselect } from 'simple-statistics';

/** A pause longer than this many logging intervals ends a run: what lies on either side are not neighbours. */
const LONGEST_GAP_INTERVALS = 5;

export interface LoggingInterval {
  /** Seconds that a point stands for; the usual interval after a pause, and 1 where the file has no time. */
  readonly secondsAt: (i: number) => number;
  readonly usualS: number;
  /** Number of the unbroken run that each point belongs to, in file order. */
  readonly run: Int32Array;
}

/** Seconds each point stands for and where the log is broken by pauses, by time or, without it, by jumps in place. */
export function loggingInterval(
  timeS: Float64Array | null,
  eastM: Float64Array,
  northM: Float64Array,
): LoggingInterval {
  const count = eastM.length;
  const stepTo = (i: number) => (timeS === null ? distanceM(eastM, northM, i) : timeS[i]! - timeS[i - 1]!);
  const usual = medianOf(positiveSteps(count, stepTo)) ?? 1;
  const limit = usual * (timeS === null ? 4 : 1) * LONGEST_GAP_INTERVALS;
  const run = new Int32Array(count);
  const usualS = timeS === null ? 1 : usual;
  let current = 0;
  for (let i = 0; i < count; i++) {
    const step = i === 0 ? 0 : stepTo(i);
    // A row that stands there twice, of one time and place, breaks no run.
    const isAgain = step === 0 && (timeS === null || distanceM(eastM, northM, i) === 0);
    const follows = i > 0 && step <= limit && (step > 0 || isAgain);
    if (i > 0 && !follows) current += 1;
    run[i] = current;
  }
  const secondsAt = (i: number) =>
    timeS !== null && i > 0 && run[i] === run[i - 1] ? timeS[i]! - timeS[i - 1]! || usualS : usualS;
  return { secondsAt, usualS, run };
}

function distanceM(eastM: Float64Array, northM: Float64Array, i: number): number {
  const [east, north] = [eastM[i]! - eastM[i - 1]!, northM[i]! - northM[i - 1]!];
  return Math.sqrt(east * east + north * north);
}

function positiveSteps(count: number, stepTo: (i: number) => number): Float64Array {
  const positive = new Float64Array(count);
  let found = 0;
  for (let i = 1; i < count; i++) {
    const step = stepTo(i);
    if (step > 0) positive[found++] = step;
  }
  return positive.subarray(0, found);
}

/** The middle value (the lower of two), by selection; null where there is none. Reorders its argument. */
export function medianOf(values: Float64Array): number | null {
  if (values.length === 0) return null;
  const middle = (values.length - 1) >> 1;
  quickselect(values as unknown as number[], middle);
  return values[middle]!;
}
