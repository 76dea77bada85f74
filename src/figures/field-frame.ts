import { INK } from './ink.ts';
import type { StripOnField } from './strip-on-field.ts';
import { type Markup, pixels } from './svg-markup.ts';
import { textAt, textWidthPx } from './text-fitting.ts';
import type { TreatmentMarks } from './treatment-marks.ts';

/** From local metres to pixels: one scale both ways, north up. */
export interface FieldFrame {
  readonly left: number;
  readonly top: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pxPerM: number;
  readonly toX: (eastM: number) => number;
  readonly toY: (northM: number) => number;
}

type Ring = readonly (readonly [number, number])[];

/** The largest scale at which all strips fit the width and the height; the field is centred across. */
export function fieldFrame(
  strips: readonly StripOnField[],
  left: number,
  top: number,
  widthPx: number,
  mostHeightPx: number,
): FieldFrame {
  const box = boundsOf(strips.flatMap((strip) => strip.rings));
  const wideM = Math.max(box.east - box.west, 1e-9);
  const highM = Math.max(box.north - box.south, 1e-9);
  const pxPerM = Math.min(widthPx / wideM, mostHeightPx / highM);
  const shift = left + (widthPx - wideM * pxPerM) / 2;
  return {
    left,
    top,
    widthPx,
    heightPx: highM * pxPerM,
    pxPerM,
    toX: (eastM) => shift + (eastM - box.west) * pxPerM,
    toY: (northM) => top + (box.north - northM) * pxPerM,
  };
}

function boundsOf(rings: readonly Ring[]): { west: number; east: number; south: number; north: number } {
  const box = { west: Infinity, east: -Infinity, south: Infinity, north: -Infinity };
  for (const [east, north] of rings.flat()) {
    box.west = Math.min(box.west, east);
    box.east = Math.max(box.east, east);
    box.south = Math.min(box.south, north);
    box.north = Math.max(box.north, north);
  }
  return box;
}

export function ringsPath(rings: readonly Ring[], frame: FieldFrame): string {
  return rings
    .filter((ring) => ring.length > 0)
    .map((ring) => `M${ring.map(([e, n]) => `${pixels(frame.toX(e))} ${pixels(frame.toY(n))}`).join('L')}Z`)
    .join('');
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const LABEL_SIZE = 11;
const HALO = {
  stroke: INK.paper,
  'stroke-width': 3.5,
  'stroke-linejoin': 'round',
  'paint-order': 'stroke',
} as const;

/** Codes at the middle of each strip, left out where they would run into one already written. */
export function stripLabels(
  strips: readonly StripOnField[],
  frame: FieldFrame,
  marks: TreatmentMarks,
): readonly Markup[] {
  const written: Box[] = [];
  return strips.flatMap((strip) => {
    const mark = marks.get(strip.treatment);
    const middle = middleOf(strip.rings[0] ?? []);
    if (mark === undefined || middle === null) return [];
    const width = textWidthPx(mark.code, LABEL_SIZE, true);
    const x = frame.toX(middle[0]);
    const y = frame.toY(middle[1]);
    const box = { x: x - width / 2, y: y - LABEL_SIZE / 2, width, height: LABEL_SIZE };
    if (written.some((other) => overlap(box, other)) || !within(box, frame)) return [];
    written.push(box);
    return [
      textAt(
        x,
        y + 4,
        mark.code,
        { sizePx: LABEL_SIZE, bold: true, anchor: 'middle', fill: mark.colour },
        HALO,
      ),
    ];
  });
}

/** Of the ring's corners; strips are long and convex, so it lies inside. */
function middleOf(ring: Ring): readonly [number, number] | null {
  const corners = isClosed(ring) ? ring.slice(0, -1) : ring;
  if (corners.length === 0) return null;
  const east = corners.reduce((sum, [e]) => sum + e, 0) / corners.length;
  const north = corners.reduce((sum, [, n]) => sum + n, 0) / corners.length;
  return [east, north];
}

function isClosed(ring: Ring): boolean {
  const first = ring[0];
  const last = ring.at(-1);
  return ring.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

function within(box: Box, frame: FieldFrame): boolean {
  return box.x >= 0 && box.x + box.width <= frame.left * 2 + frame.widthPx;
}
