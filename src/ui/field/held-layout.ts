import { svg, type TemplateResult } from 'lit';
import { inDegrees, inRadians } from '../../geometry/angle.ts';
import { convexHull } from '../../geometry/convex-hull.ts';
import type { LocalPosition } from '../../geometry/local-projection.ts';
import type { FieldStrip } from '../../pipeline/field-strips.ts';
import { type FieldView, toGround, toPx } from './field-view.ts';

/** What the pointer did to a layout since it took hold of it. Degrees run clockwise. */
export type LayoutDrag =
  | { readonly kind: 'shift'; readonly eastM: number; readonly northM: number }
  | { readonly kind: 'turn'; readonly degrees: number };

/** A layout that the field lets a user take hold of; the holder draws the strips where they are dragged to. */
export interface HeldLayout {
  /** About which it turns, in metres of the field's frame. */
  readonly middle: LocalPosition;
  /** Way of the handle, clockwise from north. */
  readonly handleDegrees: number;
  readonly drag: (drag: LayoutDrag) => void;
  readonly letGo: () => void;
  /** Whether the key was the holder's. */
  readonly key: (event: KeyboardEvent) => boolean;
}

/** One drag: where it was taken, in pixels of the field, which stay while an answer that comes in moves the frame. */
export interface LayoutGrip {
  readonly kind: LayoutDrag['kind'];
  readonly place: readonly [number, number];
}

const HANDLE_PX = 9;
/** So near to the handle, a finger still means it. */
const REACH_PX = 22;
const LONGEST_ARM_PX = 150;

/** By the handle it is turned; by its ground it is shifted; elsewhere the field itself moves: null. */
export function gripAt(
  held: HeldLayout,
  strips: readonly FieldStrip[],
  view: FieldView,
  place: readonly [number, number],
): LayoutGrip | null {
  const [x, y] = handlePx(held, view);
  if (Math.hypot(place[0] - x, place[1] - y) <= REACH_PX) return { kind: 'turn', place };
  return liesOver(strips, toGround(view, ...place)) ? { kind: 'shift', place } : null;
}

/** After the hand went so far, in pixels. */
export function draggedBy(
  { kind, place: [x, y] }: LayoutGrip,
  { middle }: HeldLayout,
  view: FieldView,
  [dx, dy]: readonly [number, number],
): LayoutDrag {
  const [from, to] = [toGround(view, x, y), toGround(view, x + dx, y + dy)];
  if (kind === 'shift') return { kind, eastM: to[0] - from[0], northM: to[1] - from[1] };
  const way = ([east, north]: LocalPosition) => inDegrees(Math.atan2(east - middle[0], north - middle[1]));
  const degrees = way(to) - way(from);
  return { kind, degrees: degrees - 360 * Math.round(degrees / 360) };
}

/** On the ground that the strips take up together, the lanes between them included. */
function liesOver(strips: readonly FieldStrip[], [east, north]: LocalPosition): boolean {
  const hull = convexHull(strips.flatMap(({ rings }) => rings.map((ring) => Float64Array.from(ring.flat()))));
  return hull.every(([x, y], i) => {
    const [nextX, nextY] = hull[(i + 1) % hull.length]!;
    return (nextX - x) * (north - y) - (nextY - y) * (east - x) >= 0;
  });
}

function handlePx({ middle, handleDegrees }: HeldLayout, view: FieldView): readonly [number, number] {
  const arm = Math.min(LONGEST_ARM_PX, Math.min(view.widthPx, view.heightPx) / 2 - 2 * HANDLE_PX);
  const [x, y] = toPx(view, ...middle);
  return [x + arm * Math.sin(inRadians(handleDegrees)), y - arm * Math.cos(inRadians(handleDegrees))];
}

/** The middle, and the handle to turn by. */
export function heldLayoutPicture(held: HeldLayout, view: FieldView): TemplateResult {
  const [x, y] = toPx(view, ...held.middle);
  const [handleX, handleY] = handlePx(held, view);
  return svg`
    <path class="turn-arm" d=${`M${x.toFixed(1)} ${y.toFixed(1)}L${handleX.toFixed(1)} ${handleY.toFixed(1)}`}></path>
    <circle class="turn-middle" cx=${x} cy=${y} r="4"></circle>
    <circle class="turn-handle" cx=${handleX} cy=${handleY} r=${HANDLE_PX}></circle>
  `;
}
