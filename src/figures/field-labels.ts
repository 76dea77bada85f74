import type { FieldFrame, Ring } from './field-frame.ts';
import { INK } from './ink.ts';
import type { StripOnField } from './strip-on-field.ts';
import type { Markup } from './svg-markup.ts';
import { textAt, textWidthPx } from './text-fitting.ts';
import type { TreatmentMarks } from './treatment-marks.ts';

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
  return [meanOf(corners.map(([east]) => east)), meanOf(corners.map(([, north]) => north))];
}

function isClosed(ring: Ring): boolean {
  const first = ring[0];
  const last = ring.at(-1);
  return ring.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/** Each block's name once, beyond the northern ends of its strips (the eastern ends where strips run east and west). */
export function blockLabels(strips: readonly StripOnField[], frame: FieldFrame): readonly Markup[] {
  const written: Box[] = [];
  const blocks = [...new Set(strips.flatMap((strip) => strip.block ?? []))];
  return blocks.flatMap((block) => {
    const ends = strips
      .filter((strip) => strip.block === block)
      .flatMap(({ rings }) => endOf(rings[0] ?? []) ?? []);
    if (ends.length === 0) return [];
    const text = /^block/i.test(block) ? block : `Block ${block}`;
    const width = textWidthPx(text, LABEL_SIZE);
    const [alongX, alongY] = [
      meanOf(ends.map((end) => end.alongEast)),
      -meanOf(ends.map((end) => end.alongNorth)),
    ];
    const x = frame.toX(meanOf(ends.map((end) => end.east))) + alongX * (8 + width / 2);
    const y = frame.toY(meanOf(ends.map((end) => end.north))) + alongY * 12;
    const box = { x: x - width / 2, y: y - LABEL_SIZE / 2, width, height: LABEL_SIZE };
    if (written.some((other) => overlap(box, other)) || !within(box, frame)) return [];
    written.push(box);
    return [textAt(x, y + 4, text, { sizePx: LABEL_SIZE, anchor: 'middle', fill: INK.black }, HALO)];
  });
}

interface StripEnd {
  readonly east: number;
  readonly north: number;
  /** Unit vector pointing out of the strip along its longest side. */
  readonly alongEast: number;
  readonly alongNorth: number;
}

function endOf(ring: Ring): StripEnd | null {
  const middle = middleOf(ring);
  if (middle === null) return null;
  let longest = { east: 0, north: 0, length: 0 };
  ring.forEach(([east, north], index) => {
    const [nextEast, nextNorth] = ring[(index + 1) % ring.length] ?? [east, north];
    const side = { east: nextEast - east, north: nextNorth - north };
    const length = Math.hypot(side.east, side.north);
    if (length > longest.length) longest = { ...side, length };
  });
  if (longest.length === 0) return null;
  const northward = longest.north + longest.east * 1e-3 >= 0 ? 1 : -1;
  const alongEast = (northward * longest.east) / longest.length;
  const alongNorth = (northward * longest.north) / longest.length;
  const reach = Math.max(...ring.map(([e, n]) => (e - middle[0]) * alongEast + (n - middle[1]) * alongNorth));
  return {
    east: middle[0] + reach * alongEast,
    north: middle[1] + reach * alongNorth,
    alongEast,
    alongNorth,
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function within(box: Box, frame: FieldFrame): boolean {
  return box.x >= 0 && box.x + box.width <= frame.left * 2 + frame.widthPx;
}
