import { median } from 'simple-statistics';
import { inDegrees } from '../geometry/angle.ts';
import { polygonCentroid, toLocalPolygon } from '../geometry/local-polygon.ts';
import { localProjection } from '../geometry/local-projection.ts';
import { orientedStrip } from '../geometry/oriented-strip.ts';
import { commonAcross } from '../geometry/place-across.ts';
import { pinOf, trialAsItLies } from '../trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../trial/layout-move-schema.ts';
import { failure, type Outcome, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { cuttingIn, saysHeader } from './cutting.ts';
import { fieldPasses } from './field-passes.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import {
  fitAcross,
  type LaidStrip,
  type LayoutAxes,
  laidStrip,
  middleAcrossM,
  NO_MOVE,
  passesWithin,
  type SmallMove,
  stripsServed,
  turnedAxes,
} from './layout-fit.ts';
import { medianOf } from './logging-interval.ts';
import { headerOfFile, type PassLine, passLines } from './pass-lines.ts';
import { placeFile } from './placed-file.ts';

/** How a layout fits the passes. */
export interface LayoutFit {
  /** Of all ground cut by passes, the share that headers cut inside one strip. */
  readonly share: number;
  /** Passes that lie whole (nine tenths of the header) in one strip. */
  readonly wholePasses: number;
}

/** Why a move cannot be told from the passes. */
export type MoveUnknown =
  | 'allAsApplied'
  | 'noHeaderWidth'
  | 'tooFewPasses'
  | 'passesRunAcross'
  | 'outOfReach'
  | 'noClearBest';

export interface ProposedMove {
  /** What the document would hold: the move that stands there already, and this one after it. */
  readonly move: LayoutMove;
  /** What was found, in the axes of the strips. */
  readonly found: SmallMove;
  readonly before: LayoutFit;
  readonly after: LayoutFit;
  readonly passes: number;
  /** Shifts across by so much either way fit as well; the middle of them is taken. */
  readonly slackM: number;
  /** Other places across that fit as well, within what was tried: how many, and how far the next lies. */
  readonly others: { readonly count: number; readonly nextM: number };
  /** Whether the ends of the passes tell a shift along the strips. */
  readonly along: 'told' | 'noHeaderState' | 'endsDisagree';
}

export type LayoutMoveAnswer =
  | ({ readonly kind: 'move' | 'fits' } & ProposedMove)
  | {
      readonly kind: 'cannotTell';
      readonly why: MoveUnknown;
      readonly passes: number;
      readonly degrees: number;
    };

const FEWEST_PASSES = 3;
/** Passes that run farther than this from the strips cannot be brought onto them by a small turn. */
const MOST_TURN_DEGREES = 10;
/** Shifts across that are tried: so far, or one and a half strips where that is more. */
const REACH_M = 60;
const REACH_STRIPS = 1.5;
const STEP_M = 0.1;
/** A turn counts when it is twice its standard error, and moves the ends of the strips by so much. */
const LEAST_END_M = 0.25;
/** Shares within this of the best are as good: below a tenth of a metre on a header of ten. */
const AS_GOOD = 0.005;
/** Shares of the header in one strip: a whole pass, and one that is mostly in it. */
const WHOLE_SHARE = 0.9;
const MOSTLY_SHARE = 0.8;
/** So many of the strips under passes must have a whole one at the best place: else headers and strips do not go together. */
const LEAST_SERVED = 0.8;
/** Between its best and its worst place within a header's width the share must differ by this much of the best. */
const LEAST_RELIEF = 0.05;
/** Places that fit as well, nearer to each other than this share of the header, tell nothing. */
const NEAREST_OTHER = 0.75;
/** Shifts along below this are not told. */
const LEAST_ALONG_M = 1;
/** A pass is as long as its strip within this; so many must be: others were begun late, or end in a turn with the header down. */
const ENDS_AGREE_M = 10;
const ENDS_AGREE_SHARE = 0.25;

/**
 * By how much should the layout be moved so that passes lie in strips with their whole width? From where the passes
 * were driven alone: no yield is looked at, and whether a plan was mirrored or numbered backwards is never proposed,
 * since only the yields could tell.
 *
 * Turn: mean slope of the passes against the strips' common axis, weighted by length. Across: the shift with the
 * largest share of newly cut ground that headers cut inside one strip, to 0.1 m; where shifts fit alike the middle of
 * them. Where several places fit alike, within half a pass (a field harvested all over looks the same one header on),
 * the nearest to where the layout lies, and the others are told. Along: the median of the shifts that bring strips
 * under passes as long as they are. Starts from the move that the trial holds.
 */
export function proposeLayoutMove(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
): Outcome<LayoutMoveAnswer> {
  const ground = layoutGround(trial);
  if (ground === null) return failure(problem('error', 'noStripPolygons'));
  if (files.length === 0) return failure(problem('error', 'noHarvestFile'));
  const { axes, strips } = ground;
  if (strips.length === 0) return unknown('allAsApplied', 0);
  const placed = files.map((file) => placeFile(file, ground.projection, () => -1));
  const headers = placed.map((file) => headerOfFile(file, trial.harvest.headerWidthM));
  const known = headers.filter((header) => header !== null);
  if (known.length < headers.length) return unknown('noHeaderWidth', 0);
  const tracks = placed.map(({ input, eastM, northM, interval }) => ({
    file: input.file,
    eastM,
    northM,
    run: interval.run,
    // Where the header is not recorded all counts, since yields shall have no say.
    cutting: saysHeader(input) ? cuttingIn(input) : new Uint8Array(input.count).fill(1),
  }));
  const driven = [...(fieldPasses(tracks)?.passes ?? [])].sort(
    (a, b) => a.fileIndex - b.fileIndex || a.spans[0]!.first - b.spans[0]!.first,
  );
  if (driven.length < FEWEST_PASSES) return unknown('tooFewPasses', driven.length);
  const lines = passLines(driven, placed, known, axes);
  const { turnDegrees, meanDegrees } = turnOf(lines, strips);
  if (Math.abs(meanDegrees) > MOST_TURN_DEGREES) return unknown('passesRunAcross', lines.length, meanDegrees);

  const first = bestAcross(lines, strips, axes, { turnDegrees, alongM: 0 });
  if (typeof first === 'string') return unknown(first, lines.length);
  const ends = placed.every(({ input }) => saysHeader(input))
    ? shiftAlong(
        passLines(driven, placed, known, turnedAxes(axes, turnDegrees)),
        strips,
        axes,
        turnDegrees,
        first,
      )
    : ('noHeaderState' as const);
  const alongM = typeof ends === 'number' ? ends : 0;
  const best = alongM === 0 ? first : bestAcross(lines, strips, axes, { turnDegrees, alongM });
  if (typeof best === 'string') return unknown(best, lines.length);

  const found: SmallMove = { turnDegrees, acrossM: best.acrossM, alongM };
  const fitUnder = (move: SmallMove): LayoutFit => ({
    share: fitAcross(lines, strips, axes, move)(move.acrossM),
    wholePasses: passesWithin(WHOLE_SHARE, lines, strips, axes, move).length,
  });
  const [before, after] = [fitUnder(NO_MOVE), fitUnder(found)];
  const fits = turnDegrees === 0 && alongM === 0 && before.share >= after.share - AS_GOOD;
  return success({
    kind: fits ? 'fits' : 'move',
    move: movedOn(trial.layoutMove, found, axes),
    found,
    before,
    after,
    passes: lines.length,
    slackM: best.slackM,
    others: best.others,
    along: typeof ends === 'number' ? 'told' : ends,
  });
}

function unknown(why: MoveUnknown, passes: number, degrees = 0): Outcome<LayoutMoveAnswer> {
  return success({ kind: 'cannotTell', why, passes, degrees });
}

/**
 * Strips where they lie now, in the plane about the middle of the plan, which moves are told in. Outlines as applied
 * lie where they were sprayed and are not moved.
 */
function layoutGround(trial: TrialDocument) {
  const pin = trial.layoutMove?.pinned ?? pinOf(trial.strips);
  if (pin === null) return null;
  const projection = localProjection({ originLongitude: pin.longitude, originLatitude: pin.latitude });
  const lying = trialAsItLies(trial).strips.flatMap(({ polygon }, index) => {
    if (polygon === null || trial.strips[index]?.appliedPolygon) return [];
    const local = toLocalPolygon(polygon, projection);
    return [{ oriented: orientedStrip(local), centroid: polygonCentroid(local) }];
  });
  const [acrossEast, acrossNorth] = commonAcross(lying.map(({ oriented }) => oriented));
  const axes: LayoutAxes = {
    centre: [trial.layoutMove?.eastM ?? 0, trial.layoutMove?.northM ?? 0],
    along: [-acrossNorth, acrossEast],
  };
  const strips = lying.map(({ oriented, centroid }) => laidStrip(oriented, centroid, axes));
  return { projection, axes, strips };
}

/** Degrees clockwise; 0 where the passes do not tell it from none, or where it moves no end of a strip by much. */
function turnOf(
  lines: readonly PassLine[],
  strips: readonly LaidStrip[],
): { readonly turnDegrees: number; readonly meanDegrees: number } {
  const weight = lines.reduce((sum, { lengthM }) => sum + lengthM, 0);
  const slope = lines.reduce((sum, line) => sum + line.lengthM * line.slope, 0) / weight;
  const squares = lines.reduce((sum, line) => sum + (line.lengthM * (line.slope - slope)) ** 2, 0);
  const standardError = Math.sqrt((squares * lines.length) / (lines.length - 1)) / weight;
  const meanDegrees = inDegrees(Math.atan(slope));
  const longest = strips.reduce((most, { halfLengthM }) => Math.max(most, halfLengthM), 0);
  const isTold = Math.abs(slope) > 2 * standardError && Math.abs(slope) * longest > LEAST_END_M;
  return { turnDegrees: isTold ? rounded(meanDegrees) : 0, meanDegrees };
}

interface BestAcross {
  readonly acrossM: number;
  readonly slackM: number;
  readonly others: ProposedMove['others'];
}

function bestAcross(
  lines: readonly PassLine[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  move: Omit<SmallMove, 'acrossM'>,
): BestAcross | MoveUnknown {
  const widest = strips.reduce((most, { halfWidthM }) => Math.max(most, 2 * halfWidthM), 0);
  const headerM = medianOf(Float64Array.from(lines, (line) => line.headerM)) ?? 0;
  const steps = Math.round(Math.max(REACH_M, REACH_STRIPS * widest) / STEP_M);
  const shareAt = fitAcross(lines, strips, axes, move);
  const shares = Float64Array.from({ length: 2 * steps + 1 }, (_, i) => shareAt((i - steps) * STEP_M));
  const most = shares.reduce((best, share) => Math.max(best, share), 0);
  if (!(most > 0)) return 'outOfReach';
  const halfPass = 0.5 / lines.length;
  const peaks = peaksOf(shares, Math.round(headerM / 2 / STEP_M)).filter(
    (at) => shares[at]! >= most - Math.max(halfPass * most, AS_GOOD),
  );
  const places = apartFrom(peaks.map((at) => plateauOf(shares, at)))
    .map(([from, to]) => ({
      acrossM: ((from + to) / 2 - steps) * STEP_M,
      slackM: ((to - from) / 2) * STEP_M,
    }))
    .sort((a, b) => Math.abs(a.acrossM) - Math.abs(b.acrossM) || a.acrossM - b.acrossM);
  const nearest = places[0]!;
  const at = steps + Math.round(nearest.acrossM / STEP_M);
  if (at <= 0 || at >= 2 * steps) return 'outOfReach';
  if (reliefOf(shares, at, Math.round(headerM / STEP_M)) < LEAST_RELIEF * most) return 'noClearBest';
  const nextM = places
    .slice(1)
    .reduce(
      (least, { acrossM }) => Math.min(least, Math.abs(acrossM - nearest.acrossM)),
      Number.POSITIVE_INFINITY,
    );
  const settled = settledAcross(lines, strips, axes, { ...move, acrossM: nearest.acrossM });
  const { met, served } = stripsServed(WHOLE_SHARE, lines, strips, axes, {
    ...move,
    acrossM: settled.acrossM,
  });
  if (nextM < NEAREST_OTHER * headerM || served < LEAST_SERVED * met) return 'noClearBest';
  return {
    ...settled,
    others: { count: places.length - 1, nextM: places.length > 1 ? nextM : 0 },
  };
}

/**
 * The middle of all shifts near by that fit the passes which lie in a strip there as well. Passes over two strips,
 * which take what others left, have no say in it: they would draw the layout to the edge of what the others allow.
 */
function settledAcross(
  lines: readonly PassLine[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  move: SmallMove,
): Pick<BestAcross, 'acrossM' | 'slackM'> {
  const within = passesWithin(MOSTLY_SHARE, lines, strips, axes, move);
  const shareAt = fitAcross(within.length > 0 ? within : lines, strips, axes, move);
  const steps = Math.round(REACH_M / STEP_M);
  const shares = Float64Array.from({ length: 2 * steps + 1 }, (_, i) =>
    shareAt(move.acrossM + (i - steps) * STEP_M),
  );
  const [from, to] = plateauOf(shares, climb(shares, steps));
  return {
    acrossM: rounded(move.acrossM + ((from + to) / 2 - steps) * STEP_M),
    slackM: ((to - from) / 2) * STEP_M,
  };
}

/** Up from a place to the nearest one that no neighbour is higher than. */
function climb(shares: Float64Array, from: number): number {
  let at = from;
  while (at > 0 && shares[at - 1]! > shares[at]!) at -= 1;
  while (at < shares.length - 1 && shares[at + 1]! > shares[at]!) at += 1;
  return at;
}

/** Places higher than all others within a distance, the highest first. */
function peaksOf(shares: Float64Array, apart: number): readonly number[] {
  const order = Array.from(shares, (_, i) => i).sort((a, b) => shares[b]! - shares[a]! || a - b);
  const peaks: number[] = [];
  const isPassed = new Uint8Array(shares.length);
  for (const at of order) {
    if (isPassed[at] === 0) peaks.push(at);
    isPassed.fill(1, Math.max(0, at - apart), at + apart + 1);
    if (peaks.length > 0 && shares[at]! < shares[peaks[0]!]! / 2) break;
  }
  return peaks;
}

/** First and last of the places about a peak that are as good. */
function plateauOf(shares: Float64Array, peak: number): readonly [number, number] {
  const least = shares[peak]! - AS_GOOD;
  let [from, to] = [peak, peak];
  while (from > 0 && shares[from - 1]! >= least) from -= 1;
  while (to < shares.length - 1 && shares[to + 1]! >= least) to += 1;
  return [from, to];
}

/** Of plateaus that overlap, the one of the highest peak, which comes first. */
function apartFrom(plateaus: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
  const kept: (readonly [number, number])[] = [];
  for (const [from, to] of plateaus) {
    if (kept.every(([first, last]) => to < first || from > last)) kept.push([from, to]);
  }
  return kept;
}

function reliefOf(shares: Float64Array, at: number, within: number): number {
  const near = shares.subarray(Math.max(0, at - within), at + within + 1);
  return shares[at]! - near.reduce((least, share) => Math.min(least, share), Number.POSITIVE_INFINITY);
}

/** Lines here are in the turned axes. 0: below what ends can tell. */
function shiftAlong(
  lines: readonly PassLine[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  turnDegrees: number,
  { acrossM }: BestAcross,
): number | 'endsDisagree' {
  const shifts = lines.flatMap((line) => {
    const middleM = middleAcrossM(line, axes, { turnDegrees, acrossM, alongM: 0 });
    const met = strips.filter((strip) => Math.abs(middleM - strip.middleAcrossM) < strip.halfWidthM);
    if (met.length === 0) return [];
    const near = Math.min(...met.map(({ middleAlongM, halfLengthM }) => middleAlongM - halfLengthM));
    const far = Math.max(...met.map(({ middleAlongM, halfLengthM }) => middleAlongM + halfLengthM));
    const isAsLong = Math.abs(line.toM - line.fromM - (far - near)) <= ENDS_AGREE_M;
    return [isAsLong ? (line.fromM - near + line.toM - far) / 2 : null];
  });
  const told = shifts.filter((shift) => shift !== null);
  if (told.length < FEWEST_PASSES || told.length < ENDS_AGREE_SHARE * shifts.length) return 'endsDisagree';
  const alongM = median([...told]);
  return Math.abs(alongM) < LEAST_ALONG_M ? 0 : rounded(alongM);
}

/** Turned about where the middle of the plan lies now, moves add up. */
function movedOn(
  before: LayoutMove | undefined,
  { turnDegrees, acrossM, alongM }: SmallMove,
  axes: LayoutAxes,
): LayoutMove {
  const [alongEast, alongNorth] = turnedAxes(axes, turnDegrees).along;
  const turn = (before?.turnDegrees ?? 0) + turnDegrees;
  return {
    eastM: rounded((before?.eastM ?? 0) + alongM * alongEast + acrossM * alongNorth),
    northM: rounded((before?.northM ?? 0) + alongM * alongNorth - acrossM * alongEast),
    turnDegrees: rounded(turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn),
    mirrored: before?.mirrored ?? false,
    renumbered: before?.renumbered ?? false,
    how: 'proposed',
    ...(before?.pinned === undefined ? {} : { pinned: before.pinned }),
  };
}

function rounded(value: number): number {
  return Math.round(value * 100) / 100 + 0;
}
