import { turnBetween } from './travel-heading.ts';

/** A stretch driven in one go: an unbroken run of the log without a turn. Places are those of the driven file. */
export interface PassSpan {
  readonly first: number;
  /** One past the last point. */
  readonly end: number;
  readonly lengthM: number;
}

export interface CutTrack {
  readonly spans: readonly PassSpan[];
  /** Index into `spans` of each point; -1: on a turn, or without a position. */
  readonly passOfPoint: Int32Array;
}

interface Track {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  /** Number of the unbroken run that each point belongs to. */
  readonly run: Int32Array;
  /** Of the smoothed track. */
  readonly headingDegrees: Float64Array;
}

/** A pass ends where the heading has turned by more than this within `TURN_WITHIN_M` of travel. */
const TURN_DEGREES = 45;
const TURN_WITHIN_M = 30;
/** A shorter stretch that begins or ends in a turn is part of that turn. */
const SHORTEST_M = 10;

/**
 * Cuts the track of a combine into harvest passes, in the order driven: at gaps in time, at jumps where no time is
 * recorded (both end a run of the log), and at turns. A strip that bends with the land is one pass, since it bends
 * over more ground than a turn does.
 */
export function cutPasses(track: Track): CutTrack {
  const { eastM, northM, run, headingDegrees } = track;
  const passOfPoint = new Int32Array(eastM.length).fill(-1);
  const spans: PassSpan[] = [];
  let first = 0;
  let beganInTurn = false;
  let drivenM = 0;
  let reference = 0;
  let referenceM = 0;

  const close = (end: number, endsInTurn: boolean) => {
    const isTurn = drivenM < SHORTEST_M && (beganInTurn || endsInTurn);
    if (end > first && !isTurn) {
      passOfPoint.fill(spans.length, first, end);
      spans.push({ first, end, lengthM: drivenM });
    }
    [first, reference, drivenM, referenceM] = [end, end, 0, 0];
    beganInTurn = endsInTurn;
  };

  for (let i = 0; i < eastM.length; i++) {
    if (Number.isNaN(eastM[i]! + northM[i]!)) {
      close(i, false);
      [first, reference] = [i + 1, i + 1];
      continue;
    }
    if (i === first) continue;
    if (run[i] !== run[i - 1]) {
      close(i, false);
      continue;
    }
    const stepM = stepTo(track, i);
    while (drivenM + stepM - referenceM > TURN_WITHIN_M && reference < i) {
      reference += 1;
      referenceM += stepTo(track, reference);
    }
    if (turnBetween(headingDegrees[i]!, headingDegrees[reference]!) > TURN_DEGREES) close(i, true);
    else drivenM += stepM;
  }
  close(eastM.length, false);
  return { spans, passOfPoint };
}

function stepTo({ eastM, northM }: Track, i: number): number {
  const east = eastM[i]! - eastM[i - 1]!;
  const north = northM[i]! - northM[i - 1]!;
  return Math.sqrt(east * east + north * north);
}

/** Points of a stretch, spread evenly over it, at most so many. */
export function spread(points: Int32Array, most: number): Int32Array {
  if (points.length <= most) return points;
  return Int32Array.from({ length: most }, (_, k) => points[Math.floor(((k + 0.5) * points.length) / most)]!);
}
