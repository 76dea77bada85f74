import { acrossM, alongM } from '../geometry/oriented-strip.ts';
import { medianOf } from './logging-interval.ts';
import type { JudgedFile } from './pass-choice.ts';
import { REASON_NUMBER } from './point-screens.ts';
import type { StripGround } from './strip-ground.ts';

/** Points of other passes within so many metres along stand beside a point (common practice: a few swaths). */
const REACH_M = 10;
/** So that points logged in step lie within reach, or not, however the field is turned. */
const ROUNDING_M = 1e-6;
/** Fewer neighbours than this tell nothing. */
const FEWEST_NEIGHBOURS = 3;
const FEWEST_IN_PASS = 5;
/** Passes on each side whose points are looked at, and how many header widths away they may lie. */
const PASSES_BESIDE = 2;
const HEADERS_BESIDE = 2.5;
/** Makes the median absolute deviation of a normal sample estimate its standard deviation. */
const NORMAL_MAD = 1.4826;

/** A pass that a strip uses: its file, and the places of its points there, from one end of the strip to the other. */
interface PassOfStrip {
  readonly file: number;
  /** Median position across. */
  readonly side: number;
  /** How far across passes still lie beside it; infinite where no header width is known. */
  readonly besideM: number;
  readonly at: Int32Array;
  readonly alongM: () => Float64Array;
}

/** The passes of one strip, from side to side. */
export type PassesOfStrip = readonly PassOfStrip[];

/**
 * The passes of each strip that uses several. They depend on where points lie alone; with `keep` what was worked out
 * of them is kept for the next time.
 */
export function passesOfStrips(
  files: readonly JudgedFile[],
  grounds: readonly (StripGround | null)[],
  keep = false,
): readonly PassesOfStrip[] {
  return grounds.flatMap((ground, strip) => {
    if (ground === null) return [];
    const used = files.flatMap((file, f) =>
      file.stretches
        .filter((stretch) => stretch.strip === strip && stretch.direction !== 'across')
        .filter(({ at }) => at.length >= FEWEST_IN_PASS && isUsed(file, at))
        .map(({ at }) => passOfStrip(file, f, at, ground, keep)),
    );
    if (used.length < 2) return [];
    return [used.sort((a, b) => a.side - b.side)];
  });
}

function isUsed({ straddles }: JudgedFile, at: Int32Array): boolean {
  return straddles === null || straddles[at[0]!] === 0;
}

function passOfStrip(
  { eastM, northM, headerM }: JudgedFile,
  file: number,
  points: Int32Array,
  { oriented }: StripGround,
  keep: boolean,
): PassOfStrip {
  const alongOf = (at: Int32Array) => {
    const along = new Float64Array(at.length);
    for (let k = 0; k < at.length; k++) along[k] = alongM(oriented, eastM[at[k]!]!, northM[at[k]!]!);
    return along;
  };
  const across = new Float64Array(points.length);
  for (let k = 0; k < points.length; k++) {
    across[k] = acrossM(oriented, eastM[points[k]!]!, northM[points[k]!]!);
  }
  const side = medianOf(across) ?? 0;
  const driven = alongOf(points);
  const at = inOrderAlong(points, driven);
  const kept = keep ? (at === points ? driven : alongOf(at)) : null;
  const besideM = headerM === null ? Number.POSITIVE_INFINITY : HEADERS_BESIDE * headerM;
  return { file, side, besideM, at, alongM: () => kept ?? alongOf(at) };
}

function inOrderAlong(points: Int32Array, along: Float64Array): Int32Array {
  let [rises, falls] = [true, true];
  for (let k = 1; k < along.length; k++) {
    if (along[k]! < along[k - 1]!) rises = false;
    if (along[k]! > along[k - 1]!) falls = false;
  }
  if (rises) return points;
  if (falls) return points.slice().reverse();
  const order = Uint32Array.from(points.keys()).sort((a, b) => along[a]! - along[b]!);
  return Int32Array.from(order, (k) => points[k]!);
}

/** A file with the reasons so far; 0 is kept. */
interface ScreenedPoints {
  readonly file: { readonly yieldAtStandardKgPerHa: Float64Array };
  readonly reason: Uint8Array;
}

/**
 * Sets yields aside that are odd in their own pass as a whole and not shared by the passes beside it in the same strip:
 * a stretch that a blocked sensor or a wet chain keeps low is no outlier of the running median, which goes along with it,
 * and a wet hole, which lies in all of them, is none at all. Each pass stands about its own median, so that one that
 * reads higher throughout is left alone. A point is set aside where it lies farther than so many robust standard
 * deviations of its pass both from that median and from the median of the points of up to two passes on each side within
 * 10 m along. Passes of other strips are never looked at, nor passes without neighbours.
 */
export function screenAcross(
  strips: readonly PassesOfStrip[],
  screened: readonly ScreenedPoints[],
  robustSds: number,
): void {
  for (const passes of strips) {
    const left = passes.map((pass) => leftOf(pass, screened[pass.file]!));
    const odd = left.map((own, p) => oddOnes(own, () => besideOf(passes, p, left), robustSds));
    // Only when all passes were judged, so that none is judged by what another has lost.
    passes.forEach(({ file }, p) => {
      for (const i of odd[p]!) screened[file]!.reason[i] = REASON_NUMBER.outlier;
    });
  }
}

interface LeftOfPass {
  readonly at: Int32Array;
  readonly alongM: Float64Array;
  /** Yield about the median of the pass. */
  readonly about: Float64Array;
}

function leftOf({ at, alongM: along }: PassOfStrip, { file, reason }: ScreenedPoints): LeftOfPass {
  const alongOf = along();
  const values = file.yieldAtStandardKgPerHa;
  const kept = new Int32Array(at.length);
  const keptAlong = new Float64Array(at.length);
  const about = new Float64Array(at.length);
  let count = 0;
  for (let k = 0; k < at.length; k++) {
    const i = at[k]!;
    if (reason[i] !== 0 || Number.isNaN(values[i]!)) continue;
    kept[count] = i;
    keptAlong[count] = alongOf[k]!;
    about[count++] = values[i]!;
  }
  const own = about.subarray(0, count);
  const level = medianOf(own.slice()) ?? 0;
  for (let k = 0; k < count; k++) own[k]! -= level;
  return { at: kept.subarray(0, count), alongM: keptAlong.subarray(0, count), about: own };
}

function besideOf(passes: PassesOfStrip, p: number, left: readonly LeftOfPass[]): readonly LeftOfPass[] {
  const { side, besideM } = passes[p]!;
  return left.filter(
    (_, other) =>
      other !== p && Math.abs(other - p) <= PASSES_BESIDE && Math.abs(passes[other]!.side - side) <= besideM,
  );
}

/** Few points lie far from the level of their pass, and only for these the passes beside it are asked. */
function oddOnes(own: LeftOfPass, besides: () => readonly LeftOfPass[], robustSds: number): number[] {
  const { at, about } = own;
  if (at.length < FEWEST_IN_PASS) return [];
  const sizes = about.slice();
  for (let k = 0; k < sizes.length; k++) sizes[k] = Math.abs(sizes[k]!);
  const limit = robustSds * NORMAL_MAD * (medianOf(sizes) ?? 0);
  if (limit === 0) return [];
  const odd: number[] = [];
  let beside: readonly LeftOfPass[] | null = null;
  for (let k = 0; k < at.length; k++) {
    if (Math.abs(about[k]!) <= limit) continue;
    beside ??= besides();
    const middle = middleNear(beside, own.alongM[k]!);
    if (middle !== null && Math.abs(about[k]! - middle) > limit) odd.push(at[k]!);
  }
  return odd;
}

/** Median of the points of other passes that lie within reach along; null where they are too few. */
function middleNear(beside: readonly LeftOfPass[], alongOfPoint: number): number | null {
  const near = beside.flatMap(({ alongM: along, about }) => [
    ...about.subarray(
      firstFrom(along, alongOfPoint - REACH_M - ROUNDING_M),
      firstFrom(along, alongOfPoint + REACH_M + ROUNDING_M),
    ),
  ]);
  return near.length < FEWEST_NEIGHBOURS ? null : medianOf(Float64Array.from(near));
}

/** Place of the first value, in order of size, that is not below the wanted one. */
function firstFrom(sorted: Float64Array, wanted: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}
