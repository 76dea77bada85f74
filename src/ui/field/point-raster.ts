import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { FieldView } from './field-view.ts';

/** Pixels to be shown as they are: one 32-bit word each, width × height. */
export interface Raster {
  readonly words: Uint32Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

const SET_ASIDE_COLOUR = rgb(0xa8, 0x43, 0x1a);
/** Paler, for points that belong to no strip. */
const NO_STRIP_COLOUR = rgb(0xdd, 0xb3, 0x9d);
/** Low yield pale, high yield dark, so that the order survives black and white print. */
const LOW = [0xd9, 0xc4, 0x7c] as const;
const HIGH = [0x1f, 0x4a, 0x3a] as const;
const SHADES = 64;
const YIELD_RAMP = Uint32Array.from({ length: SHADES }, (_, shade) => {
  const share = shade / (SHADES - 1);
  const channel = (index: 0 | 1 | 2) => Math.round(LOW[index] + share * (HIGH[index] - LOW[index]));
  return rgb(channel(0), channel(1), channel(2));
});

type Stamp = readonly (readonly [number, number])[];

/** A square dot for a point that was kept, a diagonal cross for one set aside: offsets in pixels. */
interface Marks {
  readonly dot: Stamp;
  readonly cross: Stamp;
}

const TINY: Marks = { dot: square(0, 1), cross: cross(1) };
const SMALL: Marks = { dot: square(-1, 1), cross: cross(2) };
const MIDDLE: Marks = { dot: square(-1, 2), cross: cross(3) };
const LARGE: Marks = { dot: square(-2, 2), cross: cross(4) };

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

function cross(reach: number): Stamp {
  return range(-reach, reach).flatMap((d) => [[d, d] as const, [d, -d] as const]);
}

function range(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}

/**
 * Draws every point into the raster, kept ones over those set aside. Drawn pixel by pixel, since a path of a million
 * arcs takes a canvas seconds (measured before building).
 */
export function paintPoints(
  raster: Raster,
  points: PlacedPoints,
  view: FieldView,
  pxRatio: number,
  showSetAside: boolean,
): void {
  const { low, high } = keptYieldRange(points);
  const scale = view.pxPerM * pxRatio;
  const left = raster.widthPx / 2 - view.centreEastM * scale;
  const top = raster.heightPx / 2 + view.centreNorthM * scale;
  const marks = marksAt(view.pxPerM);
  const pass = (wantKept: boolean) => {
    const stamp = stretched(wantKept ? marks.dot : marks.cross, pxRatio);
    for (let i = 0; i < points.reason.length; i += 1) {
      const isKept = points.reason[i] === 0;
      if (isKept !== wantKept) continue;
      const x = Math.round(left + points.eastM[i]! * scale);
      const y = Math.round(top - points.northM[i]! * scale);
      const colour = isKept
        ? yieldColour(points.yieldKgPerHa[i]!, low, high)
        : setAsideColour(points.strip[i]!);
      for (const [dx, dy] of stamp) put(raster, x + dx, y + dy, colour);
    }
  };
  if (showSetAside) pass(false);
  pass(true);
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

export function keptYieldRange(points: PlacedPoints): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < points.reason.length; i += 1) {
    const value = points.yieldKgPerHa[i]!;
    if (points.reason[i] !== 0 || Number.isNaN(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { low, high };
}

function setAsideColour(strip: number): number {
  return strip < 0 ? NO_STRIP_COLOUR : SET_ASIDE_COLOUR;
}

function yieldColour(value: number, low: number, high: number): number {
  const share = high > low ? (value - low) / (high - low) : 0.5;
  return YIELD_RAMP[Math.round(Math.min(1, Math.max(0, share)) * (SHADES - 1))] ?? SET_ASIDE_COLOUR;
}

/** Opaque colour in the byte order of canvas pixels on little-endian machines, which all browsers' machines are. */
function rgb(red: number, green: number, blue: number): number {
  return ((255 << 24) | (blue << 16) | (green << 8) | red) >>> 0;
}
