import type { StripOnField } from './strip-on-field.ts';
import { pixels } from './svg-markup.ts';

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

export type Ring = readonly (readonly [number, number])[];

/** Room on every side for the names of blocks. */
const LABEL_ROOM = 22;

/** The largest scale at which all strips and their labels fit the width and the height; centred across. */
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
  const pxPerM = Math.min((widthPx - 2 * LABEL_ROOM) / wideM, (mostHeightPx - 2 * LABEL_ROOM) / highM);
  const shift = left + (widthPx - wideM * pxPerM) / 2;
  return {
    left,
    top,
    widthPx,
    heightPx: highM * pxPerM + 2 * LABEL_ROOM,
    pxPerM,
    toX: (eastM) => shift + (eastM - box.west) * pxPerM,
    toY: (northM) => top + LABEL_ROOM + (box.north - northM) * pxPerM,
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
