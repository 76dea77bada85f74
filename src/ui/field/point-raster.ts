import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { FieldView } from './field-view.ts';
import { type ReasonMark, reasonMark } from './reason-marks.ts';
import { REASONS } from './set-aside-reasons.ts';
import { shadedYields, type YieldRange } from './yield-range.ts';

/** Pixels to be shown as they are: one 32-bit word each, width × height. */
export interface Raster {
  readonly words: Uint32Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

const SET_ASIDE_COLOUR = rgb(0xa8, 0x43, 0x1a);
/** Paler, for points that belong to no strip. */
const NO_STRIP_COLOUR = rgb(0xdd, 0xb3, 0x9d);
/** Between, for a point whose yield is not known. */
const NO_YIELD_COLOUR = rgb(0x8a, 0x86, 0x7b);
/** Low yield pale, high yield dark, so that the order survives black and white print. */
const LOW = [0xd9, 0xc4, 0x7c] as const;
const HIGH = [0x1f, 0x4a, 0x3a] as const;
const SHADES = 64;
const YIELD_RAMP = Uint32Array.from({ length: SHADES }, (_, shade) => rgb(...shadeAt(shade / (SHADES - 1))));

function shadeAt(share: number): readonly [number, number, number] {
  const channel = (index: 0 | 1 | 2) => Math.round(LOW[index] + share * (HIGH[index] - LOW[index]));
  return [channel(0), channel(1), channel(2)];
}

/** For a legend: the shade of a yield so far from the lowest to the highest, as text. */
export function shadeText(share: number): string {
  return `rgb(${shadeAt(share).join(' ')})`;
}

/** Where colours tell why points were set aside, kept ones step back. */
const KEPT_COLOUR = rgb(0xcf, 0xca, 0xbb);

/** What the colours tell: yields of kept points, or why the others were set aside. */
export type Shown = 'yield' | 'reason';

type Stamp = readonly (readonly [number, number])[];

/** A square dot for a point that was kept; a cross, an upright one or an open square for one set aside: offsets in pixels. */
interface Marks extends Readonly<Record<ReasonMark['form'], Stamp>> {
  readonly dot: Stamp;
}

const TINY = marksOf(square(0, 1), 1);
const SMALL = marksOf(square(-1, 1), 2);
const MIDDLE = marksOf(square(-1, 2), 3);
const LARGE = marksOf(square(-2, 2), 4);

function marksOf(dot: Stamp, reach: number): Marks {
  const inner = reach - 1;
  return {
    dot,
    cross: range(-reach, reach).flatMap((d) => [[d, d] as const, [d, -d] as const]),
    plus: range(-reach, reach).flatMap((d) => [[d, 0] as const, [0, d] as const]),
    square: square(-inner, inner).filter(([dx, dy]) => Math.max(Math.abs(dx), Math.abs(dy)) === inner),
  };
}

/** Marks grow with the scale, so that neighbours along a pass, a metre or two apart, stay apart. */
function marksAt(pxPerM: number): Marks {
  if (pxPerM < 0.9) return TINY;
  if (pxPerM < 2.5) return SMALL;
  return pxPerM < 6 ? MIDDLE : LARGE;
}

function square(from: number, to: number): Stamp {
  const steps = range(from, to);
  return steps.flatMap((dx) => steps.map((dy) => [dx, dy] as const));
}

function range(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}

/** Paints the next so many points; true once all are painted. */
export type PaintSome = (points: number) => boolean;

/** Draws every point into the raster at once. */
export function paintPoints(
  raster: Raster,
  points: PlacedPoints,
  view: FieldView,
  pxRatio: number,
  showSetAside: boolean,
  shown: Shown = 'yield',
): void {
  startPainting(raster, points, view, pxRatio, showSetAside, shown)(2 * points.reason.length);
}

/**
 * Draws every point into the raster, some at a time, kept ones over those set aside. Drawn pixel by pixel, since a
 * path of a million arcs takes a canvas seconds (measured before building).
 */
export function startPainting(
  raster: Raster,
  points: PlacedPoints,
  view: FieldView,
  pxRatio: number,
  showSetAside: boolean,
  shown: Shown = 'yield',
): PaintSome {
  const layer = {
    raster,
    points,
    view,
    pxRatio,
    shown,
    range: shadedYields(points),
    stamps: stampsByReason(marksAt(view.pxPerM), shown, pxRatio, raster),
  };
  const crosses = { ...layer, kept: false };
  const dots = { ...layer, kept: true };
  const count = points.reason.length;
  let done = showSetAside ? 0 : count;
  return (more) => {
    const end = Math.min(2 * count, done + more);
    if (done < count) paintSome(crosses, done, Math.min(end, count));
    if (end > count) paintSome(dots, Math.max(done, count) - count, end - count);
    done = end;
    return done === 2 * count;
  };
}

interface Layer {
  readonly raster: Raster;
  readonly points: PlacedPoints;
  readonly view: FieldView;
  readonly pxRatio: number;
  readonly shown: Shown;
  readonly range: YieldRange;
  /** By number of the reason; 0: kept. */
  readonly stamps: readonly PlacedStamp[];
  /** Kept points, or those set aside. */
  readonly kept: boolean;
}

function paintSome(layer: Layer, from: number, to: number): void {
  const { raster, points, view, pxRatio, range, stamps, kept } = layer;
  const byReason = layer.shown === 'reason';
  const scale = view.pxPerM * pxRatio;
  const left = raster.widthPx / 2 - view.centreEastM * scale;
  const top = raster.heightPx / 2 + view.centreNorthM * scale;
  const { reason, eastM, northM, yieldKgPerHa, strip } = points;
  for (let i = from; i < to; i += 1) {
    const why = reason[i]!;
    if ((why === 0) !== kept) continue;
    const x = Math.round(left + eastM[i]! * scale);
    const y = Math.round(top - northM[i]! * scale);
    let colour = REASON_COLOURS[why]!;
    if (!byReason)
      colour = kept ? yieldColour(yieldKgPerHa[i]!, range.low, range.high) : setAsideColour(strip[i]!);
    putStamp(raster, stamps[why]!, x, y, colour);
  }
}

/** A stamp laid out for one raster: where its pixels lie from its middle, across, down, and in the raster's words. */
interface PlacedStamp {
  readonly reachPx: number;
  readonly across: Int32Array;
  readonly down: Int32Array;
  readonly words: Int32Array;
}

function stampOf(stamp: Stamp, pxRatio: number, { widthPx }: Raster): PlacedStamp {
  const pixels = stretched(stamp, pxRatio);
  return {
    reachPx: Math.max(...pixels.flat().map(Math.abs)),
    across: Int32Array.from(pixels, ([dx]) => dx),
    down: Int32Array.from(pixels, ([, dy]) => dy),
    words: Int32Array.from(pixels, ([dx, dy]) => dy * widthPx + dx),
  };
}

function stampsByReason(marks: Marks, shown: Shown, pxRatio: number, raster: Raster): readonly PlacedStamp[] {
  const crossed = stampOf(marks.cross, pxRatio, raster);
  const byForm = {
    cross: crossed,
    plus: stampOf(marks.plus, pxRatio, raster),
    square: stampOf(marks.square, pxRatio, raster),
  };
  const setAside = REASONS.map((_, k) => (shown === 'reason' ? byForm[reasonMark(k + 1).form] : crossed));
  return [stampOf(marks.dot, pxRatio, raster), ...setAside];
}

/** Only at the raster's edge must each pixel be asked whether it lies within. */
function putStamp(raster: Raster, stamp: PlacedStamp, x: number, y: number, colour: number): void {
  const { words, widthPx, heightPx } = raster;
  const { reachPx } = stamp;
  const isInside = x >= reachPx && y >= reachPx && x < widthPx - reachPx && y < heightPx - reachPx;
  if (isInside) {
    const middle = y * widthPx + x;
    for (let k = 0; k < stamp.words.length; k += 1) words[middle + stamp.words[k]!] = colour;
    return;
  }
  for (let k = 0; k < stamp.words.length; k += 1) {
    put(raster, x + stamp.across[k]!, y + stamp.down[k]!, colour);
  }
}

/** On a dense screen marks grow with it, each pixel becoming a block. */
function stretched(stamp: Stamp, pxRatio: number): Stamp {
  const times = Math.max(1, Math.round(pxRatio));
  if (times === 1) return stamp;
  const steps = Array.from({ length: times }, (_, step) => step);
  return stamp.flatMap(([dx, dy]) =>
    steps.flatMap((a) => steps.map((b) => [dx * times + a, dy * times + b] as const)),
  );
}

function put(raster: Raster, x: number, y: number, colour: number): void {
  if (x < 0 || y < 0 || x >= raster.widthPx || y >= raster.heightPx) return;
  raster.words[y * raster.widthPx + x] = colour;
}

function setAsideColour(strip: number): number {
  return strip < 0 ? NO_STRIP_COLOUR : SET_ASIDE_COLOUR;
}

function yieldColour(value: number, low: number, high: number): number {
  if (Number.isNaN(value)) return NO_YIELD_COLOUR;
  const share = high > low ? (value - low) / (high - low) : 0.5;
  return YIELD_RAMP[Math.round(Math.min(1, Math.max(0, share)) * (SHADES - 1))] ?? SET_ASIDE_COLOUR;
}

/** Opaque colour in the byte order of canvas pixels on little-endian machines, which all browsers' machines are. */
function rgb(red: number, green: number, blue: number): number {
  return ((255 << 24) | (blue << 16) | (green << 8) | red) >>> 0;
}

/** By number of the reason; 0: kept. */
const REASON_COLOURS = Uint32Array.from([
  KEPT_COLOUR,
  ...REASONS.map((_, k) => rgb(...reasonMark(k + 1).colour)),
]);
