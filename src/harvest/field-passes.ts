import { inDegrees } from '../geometry/angle.ts';
import type { LocalPosition } from '../geometry/local-projection.ts';
import { acrossM, alongM } from '../geometry/oriented-strip.ts';
import type { PassNumbering } from '../trial/trial-document.ts';
import { cutPasses } from './harvest-passes.ts';
import { medianOf } from './logging-interval.ts';
import { headingFromTrack, turnBetween } from './travel-heading.ts';

/** The track of one file, in the order driven. */
export interface DrivenTrack {
  readonly file: string;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly run: Int32Array;
  /** 0: not cutting. */
  readonly cutting: Uint8Array;
}

/** A stretch of the driven file from where it begins to cut to where it ends. */
export interface CutSpan {
  readonly first: number;
  /** One past the last point. */
  readonly end: number;
}

/** One harvest pass over the field; more than one span where the machine stopped on its way. */
export interface FieldPass {
  /** From 1, in field order. */
  readonly number: number;
  /** Index into the files handed over. */
  readonly fileIndex: number;
  readonly file: string;
  readonly spans: readonly CutSpan[];
  readonly points: number;
  readonly lengthM: number;
  /** Middle of the pass across the field, from the frame's origin. */
  readonly acrossM: number;
  /** Its ends along the axis, the lower first. */
  readonly fromM: number;
  readonly toM: number;
  /** Driven the way that the axis runs, or against it. */
  readonly direction: 'along' | 'against';
}

export interface FieldPasses {
  readonly passes: readonly FieldPass[];
  /** Unit vector of the way that most of the passes run: north, where they run more north than east, else west. */
  readonly along: LocalPosition;
  /** The edge of the field that number 1 lies at. */
  readonly from: PassNumbering['from'];
  /** Stretches cut that got no number: across the others, or much shorter. */
  readonly leftOut: { readonly across: number; readonly short: number };
}

/** Cutting for less than this at either end of a pass, apart from the rest, belongs to the turn. */
const SHORTEST_CUT_M = 20;
/** A pass that heads farther than this from the others runs across them. */
const ACROSS_DEGREES = 30;
/** Shorter than this share of the longest: the rest of a turn or of a corner, not a pass over the field. */
const SHORT_SHARE = 0.2;
/** A pass goes on behind a stop when the machine is still in line by this much, near by, and has not driven back. */
const IN_LINE_M = 2;
const GOES_ON_WITHIN_M = 30;
const DRIVEN_BACK_M = 10;

/**
 * Which harvest passes does a field have, and in which order do they lie? Each track is cut into passes (at turns, at
 * gaps in time); of each counts what lies between the first and the last stretch that it cut. What goes on in the
 * same line behind a stop is one pass. Passes that run across the others (headlands), and those shorter than a fifth
 * of the longest, get no number and are counted.
 *
 * Numbers run across the field whatever the order driven, over all files: from the western edge where the passes run
 * more north than east, else from the southern edge; passes one behind the other in one line from the south, or the
 * east, on. null where there is no pass.
 */
export function fieldPasses(tracks: readonly DrivenTrack[]): FieldPasses | null {
  const cuts = tracks.map((track, fileIndex) => cutsOf(track, fileIndex));
  const axis = commonAxis(cuts.flat());
  if (axis === null) return null;
  const joined = cuts.flatMap((own) => joinedPasses(own.map((cut) => laidAlong(cut, axis))));
  const along = joined.filter(({ isAcross }) => !isAcross);
  const longest = Math.max(...along.map(({ lengthM }) => lengthM));
  const whole = along.filter(({ lengthM }) => lengthM >= SHORT_SHARE * longest);
  return {
    passes: inFieldOrder(whole).map(({ cuts: own, lengthM, middleM, fromM, toM, isForward }, k) => ({
      number: k + 1,
      fileIndex: own[0]!.fileIndex,
      file: own[0]!.track.file,
      spans: own.map(({ first, end }) => ({ first, end })),
      points: own.reduce((sum, { first, end }) => sum + end - first, 0),
      lengthM,
      acrossM: middleM,
      fromM,
      toM,
      direction: isForward ? 'along' : 'against',
    })),
    along: axis,
    from: Math.abs(axis[1]) >= Math.abs(axis[0]) ? 'west' : 'south',
    leftOut: { across: joined.length - along.length, short: along.length - whole.length },
  };
}

/** What the document keeps of a numbering. */
export function numberingOf(tracks: readonly DrivenTrack[], { passes, from }: FieldPasses): PassNumbering {
  return {
    files: tracks.map(({ file }) => file).sort(),
    count: passes.length,
    from,
    acrossM: Math.round(passes.at(-1)!.acrossM - passes[0]!.acrossM),
  };
}

interface Cut extends CutSpan {
  readonly track: DrivenTrack;
  readonly fileIndex: number;
  readonly start: LocalPosition;
  readonly finish: LocalPosition;
}

function cutsOf(track: DrivenTrack, fileIndex: number): readonly Cut[] {
  const { eastM, northM, run } = track;
  const headingDegrees = headingFromTrack(eastM, northM, run);
  return cutPasses({ eastM, northM, run, headingDegrees }).spans.flatMap(({ first, end }): Cut[] => {
    const span = whileCutting(track, first, end);
    if (span.end - span.first < 2) return [];
    const at = (i: number): LocalPosition => [eastM[i]!, northM[i]!];
    return [{ ...span, track, fileIndex, start: at(span.first), finish: at(span.end - 1) }];
  });
}

function whileCutting({ cutting, eastM, northM }: DrivenTrack, first: number, end: number): CutSpan {
  let [from, to, began] = [end, end, first];
  for (let i = first; i <= end; i++) {
    if (i < end && cutting[i] !== 0) continue;
    const isLong =
      i > began &&
      Math.hypot(eastM[i - 1]! - eastM[began]!, northM[i - 1]! - northM[began]!) >= SHORTEST_CUT_M;
    if (isLong) [from, to] = [Math.min(from, began), i];
    began = i + 1;
  }
  return { first: from, end: to };
}

function wayOf({ start, finish }: Cut): LocalPosition {
  return [finish[0] - start[0], finish[1] - start[1]];
}

/**
 * The way most ground was driven, by doubled angles of the ways from start to end, weighted by their length; then
 * again over those that run nearly so, since headland rounds need not lie square to the others.
 */
function commonAxis(cuts: readonly Cut[]): LocalPosition | null {
  const first = meanAxis(cuts);
  if (first === null) return null;
  return meanAxis(cuts.filter((cut) => !runsAcross(wayOf(cut), first))) ?? first;
}

/** Mean of undirected axes (Mardia & Jupp 2000, Directional Statistics, 9.3), seen from the edge that comes first. */
function meanAxis(cuts: readonly Cut[]): LocalPosition | null {
  let [cosine, sine] = [0, 0];
  for (const cut of cuts) {
    const [east, north] = wayOf(cut);
    const length = Math.hypot(east, north);
    if (length === 0) continue;
    cosine += (north ** 2 - east ** 2) / length;
    sine += (2 * north * east) / length;
  }
  if (cosine === 0 && sine === 0) return null;
  const angle = Math.atan2(sine, cosine) / 2;
  const axis: LocalPosition = [Math.sin(angle), Math.cos(angle)];
  // Across is a quarter turn to the right: east of a northward axis, north of a westward one.
  const isForward = Math.abs(axis[1]) >= Math.abs(axis[0]) ? axis[1] > 0 : axis[0] < 0;
  return isForward ? axis : [-axis[0], -axis[1]];
}

function runsAcross([east, north]: LocalPosition, [alongEast, alongNorth]: LocalPosition): boolean {
  const turn = turnBetween(degrees(east, north), degrees(alongEast, alongNorth));
  return turn > ACROSS_DEGREES && turn < 180 - ACROSS_DEGREES;
}

function degrees(east: number, north: number): number {
  return inDegrees(Math.atan2(east, north));
}

/** One cut, or several in one line, seen along the field's axis. */
interface LaidPass {
  readonly cuts: readonly Cut[];
  readonly isAcross: boolean;
  readonly isForward: boolean;
  readonly lengthM: number;
  readonly middleM: number;
  readonly fromM: number;
  readonly toM: number;
  /** Along and across where the pass began and ended. */
  readonly start: LocalPosition;
  readonly finish: LocalPosition;
}

function laidAlong(cut: Cut, [alongEast, alongNorth]: LocalPosition): LaidPass {
  const axis = { centreEastM: 0, centreNorthM: 0, alongEast, alongNorth };
  const { eastM, northM } = cut.track;
  const across = Float64Array.from({ length: cut.end - cut.first }, (_, k) =>
    acrossM(axis, eastM[cut.first + k]!, northM[cut.first + k]!),
  );
  const laid = ([east, north]: LocalPosition): LocalPosition => [
    alongM(axis, east, north),
    acrossM(axis, east, north),
  ];
  const [start, finish] = [laid(cut.start), laid(cut.finish)];
  return {
    cuts: [cut],
    isAcross: runsAcross(wayOf(cut), [alongEast, alongNorth]),
    isForward: finish[0] >= start[0],
    lengthM: Math.hypot(...wayOf(cut)),
    middleM: medianOf(across) ?? start[1],
    fromM: Math.min(start[0], finish[0]),
    toM: Math.max(start[0], finish[0]),
    start,
    finish,
  };
}

/** Passes of one file, in the order driven. */
function joinedPasses(passes: readonly LaidPass[]): readonly LaidPass[] {
  const joined: LaidPass[] = [];
  for (const next of passes) {
    const last = joined.at(-1);
    if (last !== undefined && goesOn(last, next)) joined.splice(-1, 1, together(last, next));
    else joined.push(next);
  }
  return joined;
}

function goesOn(last: LaidPass, next: LaidPass): boolean {
  if (last.isAcross || next.isAcross || last.isForward !== next.isForward) return false;
  const aheadM = (next.start[0] - last.finish[0]) * (last.isForward ? 1 : -1);
  const isNear = aheadM > -DRIVEN_BACK_M && aheadM < GOES_ON_WITHIN_M;
  return isNear && Math.abs(next.start[1] - last.finish[1]) < IN_LINE_M;
}

function together(last: LaidPass, next: LaidPass): LaidPass {
  const isLonger = next.lengthM > last.lengthM;
  return {
    ...last,
    cuts: [...last.cuts, ...next.cuts],
    lengthM: last.lengthM + next.lengthM,
    middleM: isLonger ? next.middleM : last.middleM,
    fromM: Math.min(last.fromM, next.fromM),
    toM: Math.max(last.toM, next.toM),
    finish: next.finish,
  };
}

/** Across the field; in one line, one behind the other. Nothing hangs on the order of the files. */
function inFieldOrder(passes: readonly LaidPass[]): readonly LaidPass[] {
  const sorted = [...passes].sort((a, b) => a.middleM - b.middleM || a.fromM - b.fromM || a.toM - b.toM);
  const lines: LaidPass[][] = [];
  for (const pass of sorted) {
    const line = lines.at(-1);
    if (line !== undefined && isBehind(line, pass)) line.push(pass);
    else lines.push([pass]);
  }
  return lines.flatMap((line) => line.sort((a, b) => a.fromM - b.fromM));
}

function isBehind(line: readonly LaidPass[], pass: LaidPass): boolean {
  if (pass.middleM - line[0]!.middleM >= IN_LINE_M) return false;
  return line.every((one) => Math.min(one.toM, pass.toM) - Math.max(one.fromM, pass.fromM) < DRIVEN_BACK_M);
}
