import { localProjection } from '../../geometry/local-projection.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import { pinOf, trialAsItLies } from '../../trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../trial/layout-move-schema.ts';
import type { TrialDocument, UnitSystem } from '../../trial/trial-document.ts';
import { M_PER_FOOT } from '../../trial/units.ts';
import type { LayoutDrag } from '../field/held-layout.ts';
import { drawnUpPreview } from './drawn-up-preview.ts';

/** Finer than anyone can place a strip by eye. */
const SHIFT_STEP_M = 0.1;
const TURN_STEP_DEGREES = 0.05;

/** The move after a drag that began at another one: a turn is about the middle of the strips, wherever they lie. */
export function draggedMove(from: LayoutMove, drag: LayoutDrag): LayoutMove {
  if (drag.kind === 'turn')
    return { ...from, turnDegrees: turned(from.turnDegrees + drag.degrees), how: 'byHand' };
  return {
    ...from,
    eastM: toStep(from.eastM + drag.eastM, SHIFT_STEP_M),
    northM: toStep(from.northM + drag.northM, SHIFT_STEP_M),
    how: 'byHand',
  };
}

export const TURN_BY_KEY_DEGREES = 0.1;

/** By the arrow keys; five times as far with Shift. */
export function keyStepM(unitSystem: UnitSystem): number {
  return unitSystem === 'metric' ? 0.5 : M_PER_FOOT;
}

/** null: not a key that moves a layout. */
export function dragByKey({ key, shiftKey }: KeyboardEvent, unitSystem: UnitSystem): LayoutDrag | null {
  const times = shiftKey ? 5 : 1;
  const stepM = times * keyStepM(unitSystem);
  switch (key) {
    case 'ArrowRight':
      return { kind: 'shift', eastM: stepM, northM: 0 };
    case 'ArrowLeft':
      return { kind: 'shift', eastM: -stepM, northM: 0 };
    case 'ArrowUp':
      return { kind: 'shift', eastM: 0, northM: stepM };
    case 'ArrowDown':
      return { kind: 'shift', eastM: 0, northM: -stepM };
    case 'PageDown':
      return { kind: 'turn', degrees: times * TURN_BY_KEY_DEGREES };
    case 'PageUp':
      return { kind: 'turn', degrees: -times * TURN_BY_KEY_DEGREES };
    default:
      return null;
  }
}

/** In steps of a key nothing is rounded, so that a foot stays a foot. */
export function steppedMove(from: LayoutMove, drag: LayoutDrag): LayoutMove {
  if (drag.kind === 'turn') return draggedMove(from, drag);
  const [eastM, northM] = [from.eastM + drag.eastM, from.northM + drag.northM].map((metres) =>
    Number(metres.toFixed(4)),
  ) as [number, number];
  return { ...from, eastM, northM, how: 'byHand' };
}

/** The field with its strips where the move takes them, and the middle that they turn about; null without a map. */
export function fieldUnderMove(
  current: TrialDocument,
  move: LayoutMove,
  field: FieldDrawing,
): { readonly field: FieldDrawing; readonly middle: readonly [number, number] } | null {
  const pin = move.pinned ?? pinOf(current.strips);
  if (pin === null || field.frame === null) return null;
  const lying = trialAsItLies({ ...current, layoutMove: move });
  const drawn = drawnUpPreview({ ...lying, file: null }, field, lying);
  // From the plan itself: what was drawn with the last answer may lag behind an undo.
  const planned = drawnUpPreview({ ...current, file: null }, field, current);
  if (drawn === null || planned === null) return null;
  const [east, north] = localProjection(field.frame).toLocal(pin.longitude, pin.latitude);
  return { field: { ...drawn, planned: planned.strips }, middle: [east + move.eastM, north + move.northM] };
}

function turned(degrees: number): number {
  const within = degrees - 360 * Math.round(degrees / 360);
  return toStep(within, TURN_STEP_DEGREES);
}

function toStep(value: number, step: number): number {
  return Number((step * Math.round(value / step)).toFixed(4));
}
