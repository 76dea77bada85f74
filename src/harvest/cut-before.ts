import { acrossM, alongM } from '../geometry/oriented-strip.ts';
import { commonAcross } from '../geometry/place-across.ts';
import { medianOf } from './logging-interval.ts';
import type { PassedFile } from './pass-placement.ts';
import type { StripGround } from './strip-ground.ts';

const STATION_M = 2;
/** A pass that gains less of this share of its length along the strips runs across them, and is not compared. */
const LEAST_ALONG_SHARE = 0.8;

/** Where one pass ran, by stations along the strips. */
interface Course {
  readonly pass: number;
  readonly middleM: number;
  readonly firstStation: number;
  /** Place across at each station with the header down; NaN where there is none. */
  readonly acrossM: Float64Array;
}

/**
 * How many metres of the header went over ground that earlier passes of the same file had cut? One figure a point, 0
 * on turns. What two neighbours to the left and right took is added up; of several on one side the nearest counts.
 * Files are not compared with each other, since their clocks need not agree. null where no header width is known.
 */
export function cutBeforeM(file: PassedFile, grounds: readonly (StripGround | null)[]): Float32Array | null {
  const { headerM, track } = file;
  const drawn = grounds.flatMap((ground) => ground?.oriented ?? []);
  if (headerM === null || drawn.length === 0) return null;
  const [east, north] = commonAcross(drawn);
  const axis = { centreEastM: 0, centreNorthM: 0, alongEast: -north, alongNorth: east };
  const cut = new Float32Array(file.strip.length);
  const earlier: Course[] = [];
  for (const [pass, span] of track.spans.entries()) {
    const along = new Float64Array(span.end - span.first);
    const across = new Float64Array(span.end - span.first);
    for (let k = 0; k < along.length; k++) {
      along[k] = alongM(axis, file.eastM[span.first + k]!, file.northM[span.first + k]!);
      across[k] = acrossM(axis, file.eastM[span.first + k]!, file.northM[span.first + k]!);
    }
    if (Math.abs(along.at(-1)! - along[0]!) < LEAST_ALONG_SHARE * span.lengthM) continue;
    const middleM = medianOf(across.slice()) ?? 0;
    const near = earlier.filter((course) => Math.abs(course.middleM - middleM) < 1.5 * headerM);
    if (near.length > 0) {
      for (let k = 0; k < along.length; k++) {
        cut[span.first + k] = takenM(near, along[k]!, across[k]!, headerM);
      }
    }
    earlier.push(
      courseOf(pass, middleM, along, across, file.input.headerDown?.subarray(span.first, span.end)),
    );
  }
  return cut;
}

function takenM(near: readonly Course[], along: number, across: number, headerM: number): number {
  const station = Math.round(along / STATION_M);
  let [left, right] = [0, 0];
  for (const course of near) {
    const at = station - course.firstStation;
    if (at < 0 || at >= course.acrossM.length) continue;
    const away = course.acrossM[at]! - across;
    const shared = headerM - Math.abs(away);
    if (!(shared > 0)) continue;
    if (away < 0) left = Math.max(left, shared);
    else right = Math.max(right, shared);
  }
  return Math.min(headerM, left + right);
}

function courseOf(
  pass: number,
  middleM: number,
  along: Float64Array,
  across: Float64Array,
  headerDown: Uint8Array | undefined,
): Course {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < along.length; k++) {
    if (along[k]! < least) least = along[k]!;
    if (along[k]! > most) most = along[k]!;
  }
  const firstStation = Math.round(least / STATION_M);
  const course = new Float64Array(Math.round(most / STATION_M) - firstStation + 1).fill(Number.NaN);
  let before = -1;
  for (let k = 0; k < along.length; k++) {
    if (headerDown?.[k] === 0) {
      before = -1;
      continue;
    }
    const to = Math.round(along[k]! / STATION_M) - firstStation;
    // Stations skipped between two points of a fast machine were cut too.
    const from = before < 0 ? to : before;
    for (let at = Math.min(from, to); at <= Math.max(from, to); at++) course[at] = across[k]!;
    before = to;
  }
  return { pass, middleM, firstStation, acrossM: course };
}
