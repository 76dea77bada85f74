import { inDegrees, inRadians } from '../geometry/angle.ts';
import { type ConvexShape, convexPieces } from '../geometry/convex-pieces.ts';
import { footprintCorners } from '../geometry/footprint.ts';
import { toLocalPolygon } from '../geometry/local-polygon.ts';
import type { LocalProjection } from '../geometry/local-projection.ts';
import type { Corner } from '../geometry/overlap.ts';
import type { ApplicationInput, LoggedPointsInput, SwathPart } from './application-input.ts';
import { loggingInterval, medianOf } from './logging-interval.ts';
import { orderDriven } from './time-order.ts';
import { headingFromTrack, turnBetween } from './travel-heading.ts';

/** Ground that one entry of a log was put on, convex, in local metres. */
export interface Swath {
  readonly corners: ConvexShape;
  /** Index of the entry in its log. */
  readonly entry: number;
}

export interface LoggedSwaths {
  readonly swaths: readonly Swath[];
  /** Numbers (from 1) of areas whose outline crosses itself; they are left out. */
  readonly crossed: readonly number[];
}

/** A step longer than this many usual steps is a jump: nothing was put out on the way. */
const JUMP_STEPS = 5;
/** A long step that leads farther than this from the step before is a turn to another pass. */
const TURN_DEGREES = 45;
/** The direction of a shorter step is the receiver's jitter as much as the machine's. */
const LONG_STEP_M = 3;

/**
 * On which ground did a log put something? Each point that put something out stands for its swath up to the next
 * point: square to the smoothed track at either end, so that neighbours join without gap or overlap, also in a bend.
 * Where a run of the log ends the swath goes on as far as the step before. The boom follows `boomBehindM` behind the
 * logged position; null: where the log's own description of the machine has it, else at that position. Areas are taken as they are drawn.
 */
export function loggedSwaths(
  log: ApplicationInput,
  projection: LocalProjection,
  boomBehindM: number | null = null,
): LoggedSwaths {
  if (log.ground.kind === 'points')
    return { swaths: swathsOfPoints(log, log.ground, projection, boomBehindM), crossed: [] };
  const swaths: Swath[] = [];
  const crossed: number[] = [];
  log.ground.polygons.forEach((polygon, entry) => {
    if (log.applied[entry] !== 1) return;
    const pieces = convexPieces(toLocalPolygon(polygon, projection));
    if (pieces === null) crossed.push(entry + 1);
    else swaths.push(...pieces.map((corners) => ({ corners, entry })));
  });
  return { swaths, crossed };
}

interface Track {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly run: Int32Array;
  readonly headingDegrees: Float64Array;
  readonly longestStepM: number;
}

function swathsOfPoints(
  { count, applied, product }: ApplicationInput,
  points: LoggedPointsInput,
  projection: LocalProjection,
  boomBehindM: number | null,
): Swath[] {
  const { longitude, latitude, widthM, timeS, parts, offset } = points;
  const order = timeS === null ? null : orderDriven(timeS);
  const places = placesDriven(
    Int32Array.from({ length: count }, (_, i) => order?.[i] ?? i),
    points,
  );
  const logged = trackOf(
    places.map(([entry]) => projection.toLocal(longitude[entry!]!, latitude[entry!]!)),
    timeS === null ? null : drivenTimes(places, timeS),
  );
  const [behindM, asideM] = [boomBehindM ?? offset?.behindM ?? 0, offset?.asideM ?? 0];
  const track = behindM === 0 && asideM === 0 ? logged : moved(logged, behindM, asideM);
  const swaths: Swath[] = [];
  places.forEach((entries, i) => {
    for (const entry of oneOfEachProduct(entries, applied, product)) {
      for (const part of parts?.[entry] ?? [{ widthM: widthM[entry]!, asideM: 0 }]) {
        const corners = part.widthM > 0 ? swathAhead(track, i, part) : null;
        if (corners !== null) swaths.push({ corners, entry });
      }
    }
  });
  return swaths;
}

/** Entries that follow one another at one place: several products of a moment, or a receiver slower than the log. */
type PlaceDriven = readonly number[];

function placesDriven(order: Int32Array, { longitude, latitude }: LoggedPointsInput): readonly PlaceDriven[] {
  const places: number[][] = [];
  for (const entry of order) {
    const before = places.at(-1)?.[0];
    const isSame =
      before !== undefined && longitude[entry] === longitude[before] && latitude[entry] === latitude[before];
    if (isSame) places.at(-1)?.push(entry);
    else places.push([entry]);
  }
  return places;
}

/** A second row of a product at a place puts nothing on top of the first. */
function oneOfEachProduct(entries: PlaceDriven, applied: Uint8Array, product: Int32Array): readonly number[] {
  const on = entries.filter((entry) => applied[entry] === 1);
  return on.filter((entry, k) => on.findIndex((other) => product[other] === product[entry]) === k);
}

/** Seconds on the way: those spent at a place do not count, so that a stop breaks no run. */
function drivenTimes(places: readonly PlaceDriven[], timeS: Float64Array): Float64Array {
  let stoodS = 0;
  return Float64Array.from(places, (entries) => {
    const [first, last] = [timeS[entries[0]!]!, timeS[entries.at(-1)!]!];
    const at = first - stoodS;
    if (Number.isFinite(last - first)) stoodS += last - first;
    return at;
  });
}

function trackOf(at: readonly (readonly [number, number])[], driven: Float64Array | null): Track {
  const eastM = Float64Array.from(at, ([east]) => east);
  const northM = Float64Array.from(at, ([, north]) => north);
  const { run } = loggingInterval(driven, eastM, northM);
  const steps = Float64Array.from(at, (_, i) =>
    i > 0 && run[i] === run[i - 1] ? Math.hypot(eastM[i]! - eastM[i - 1]!, northM[i]! - northM[i - 1]!) : 0,
  );
  const usualM = medianOf(steps.filter((step) => step > 0)) ?? 0;
  const headingDegrees = headingFromTrack(eastM, northM, run);
  return { eastM, northM, run, headingDegrees, longestStepM: JUMP_STEPS * usualM };
}

/** Where its direction is not known a place stays. */
function moved(track: Track, behindM: number, asideM: number): Track {
  const radians = track.headingDegrees.map(inRadians);
  const known = (metres: number) => (Number.isNaN(metres) ? 0 : metres);
  const eastBy = (heading: number) => known(asideM * Math.cos(heading) - behindM * Math.sin(heading));
  const northBy = (heading: number) => known(-asideM * Math.sin(heading) - behindM * Math.cos(heading));
  return {
    ...track,
    eastM: track.eastM.map((east, i) => east + eastBy(radians[i]!)),
    northM: track.northM.map((north, i) => north + northBy(radians[i]!)),
  };
}

/** null where neither a next point nor one before says how far and whither the machine drove. */
function swathAhead(track: Track, i: number, part: SwathPart): ConvexShape | null {
  const step = stepBetween(track, i, i + 1);
  if (step === null) return swathBeyond(track, i, part);
  const headingDegrees = headingAt(track, i, step);
  const from = edge(track, i, headingDegrees, part);
  const to = edge(track, i + 1, headingAt(track, i + 1, step), part);
  const corners: ConvexShape = [from.right, to.right, to.left, from.left];
  if (isConvex(corners)) return corners;
  return rectangleBehind(track.eastM[i + 1]!, track.northM[i + 1]!, headingDegrees, step.lengthM, part);
}

/** The last point of a run: as far ahead as the step before it was long. */
function swathBeyond(track: Track, i: number, part: SwathPart): ConvexShape | null {
  const step = stepBetween(track, i - 1, i);
  if (step === null) return null;
  const headingDegrees = headingAt(track, i - 1, step);
  const heading = inRadians(headingDegrees);
  const eastM = track.eastM[i]! + step.lengthM * Math.sin(heading);
  const northM = track.northM[i]! + step.lengthM * Math.cos(heading);
  return rectangleBehind(eastM, northM, headingDegrees, step.lengthM, part);
}

function rectangleBehind(
  eastM: number,
  northM: number,
  headingDegrees: number,
  lengthM: number,
  { widthM, asideM }: SwathPart,
): ConvexShape {
  const heading = inRadians(headingDegrees);
  return footprintCorners({
    eastM: eastM + asideM * Math.cos(heading),
    northM: northM - asideM * Math.sin(heading),
    headingDegrees,
    widthM,
    lengthM,
  });
}

interface Step {
  readonly lengthM: number;
  readonly headingDegrees: number;
}

/** null where one does not follow on the other: another run, a jump, a turn, standing still or no position. */
function stepBetween(track: Track, i: number, j: number): Step | null {
  const step = plainStep(track, i, j);
  if (step === null || step.lengthM > track.longestStepM) return null;
  const before = step.lengthM < LONG_STEP_M ? null : plainStep(track, i - 1, i);
  const isTurn = before !== null && turnBetween(step.headingDegrees, before.headingDegrees) > TURN_DEGREES;
  return isTurn ? null : step;
}

function plainStep({ eastM, northM, run }: Track, i: number, j: number): Step | null {
  if (i < 0 || j >= run.length || run[i] !== run[j]) return null;
  const [east, north] = [eastM[j]! - eastM[i]!, northM[j]! - northM[i]!];
  const lengthM = Math.hypot(east, north);
  return lengthM > 0 ? { lengthM, headingDegrees: inDegrees(Math.atan2(east, north)) } : null;
}

/** Of the smoothed track; of the step itself where a long one leads elsewhere, as where a run begins or ends in a turn. */
function headingAt({ headingDegrees }: Track, i: number, step: Step): number {
  const smoothed = headingDegrees[i]!;
  const isElsewhere =
    step.lengthM >= LONG_STEP_M && turnBetween(smoothed, step.headingDegrees) > TURN_DEGREES;
  return Number.isNaN(smoothed) || isElsewhere ? step.headingDegrees : smoothed;
}

function edge({ eastM, northM }: Track, i: number, degrees: number, { widthM, asideM }: SwathPart) {
  const heading = inRadians(degrees);
  const place = (rightM: number): Corner => [
    eastM[i]! + rightM * Math.cos(heading),
    northM[i]! - rightM * Math.sin(heading),
  ];
  return { right: place(asideM + widthM / 2), left: place(asideM - widthM / 2) };
}

/** Turning left at every corner, as a sharp bend inside half a swath does not. */
function isConvex(corners: readonly Corner[]): boolean {
  return corners.every((b, i) => {
    const a = corners[(i + corners.length - 1) % corners.length]!;
    const c = corners[(i + 1) % corners.length]!;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= 0;
  });
}
