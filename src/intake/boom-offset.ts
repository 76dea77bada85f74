/// <reference path="./file-readers.d.ts" />
import type { Task } from 'isoxml';
import { lineOf, type MachineElement } from './machine-elements.ts';

/** Where a boom lies, seen from the receiver that logs its position, in metres. */
export interface BoomOffset {
  /** Against the direction of travel; below 0: ahead of the receiver. */
  readonly behindM: number;
  /** To the right. */
  readonly asideM: number;
}

/** Offsets of an element from the reference point of its machine (ISO 11783-11), in mm: forward, and to the right. */
const OFFSET_ALONG = 134;
const OFFSET_ACROSS = 135;
/** Sections that lie farther apart along the machine than this are no one boom. */
const ONE_ROW_MM = 50;

interface Place {
  readonly alongMm: number;
  readonly acrossMm: number;
}

/**
 * How far does the boom lie behind the receiver, by the machine's description? Told only where all of the way stands
 * there: the offset of the boom (or one of all its sections), that of the one navigation reference, and where that is on
 * another machine, those of both connectors by which the task couples the two. null: not wholly described.
 */
export function boomOffset(
  element: MachineElement | null,
  task: Task,
  elements: ReadonlyMap<string, MachineElement>,
): BoomOffset | null {
  const boom = element === null ? null : boomOf(element, elements);
  const at = boom === null ? null : placeOfBoom(boom);
  if (boom === null || at === null) return null;
  const receivers = [...elements.values()].filter(({ kind }) => kind === 'navigation');
  const seen = receivers.flatMap((receiver) => {
    const from = placeOf(receiver);
    const shift = from === null ? null : between(machineOf(boom), machineOf(receiver), task, elements);
    return from === null || shift === null ? [] : [{ from, shift }];
  });
  const [only] = seen;
  if (only === undefined || seen.length > 1) return null;
  const { from, shift } = only;
  return {
    behindM: (from.alongMm - at.alongMm - shift.alongMm) / 1000,
    asideM: (at.acrossMm + shift.acrossMm - from.acrossMm) / 1000,
  };
}

/** A tank puts out by the one function of its machine that is placed. */
function boomOf(
  element: MachineElement,
  elements: ReadonlyMap<string, MachineElement>,
): MachineElement | null {
  if (element.kind === 'function') return element;
  const functions = [...elements.values()].filter(
    (one) => one.kind === 'function' && machineOf(one) === machineOf(element) && placeOfBoom(one) !== null,
  );
  return functions.length === 1 ? (functions[0] ?? null) : null;
}

/** Across, sections have places of their own, which count from the middle of the machine. */
function placeOfBoom(boom: MachineElement): Place | null {
  const sections = boom.children.filter(({ kind }) => kind === 'section').map(placeOf);
  const own = placeOf(boom);
  if (own !== null) return sections.length > 0 ? { ...own, acrossMm: 0 } : own;
  const placed = sections.flatMap((place) => place?.alongMm ?? []);
  const [first] = placed;
  if (first === undefined || placed.length < sections.length) return null;
  const isOneRow = placed.every((along) => Math.abs(along - first) <= ONE_ROW_MM);
  return isOneRow ? { alongMm: first, acrossMm: 0 } : null;
}

function placeOf({ properties }: MachineElement): Place | null {
  const alongMm = properties.get(OFFSET_ALONG);
  return alongMm === undefined ? null : { alongMm, acrossMm: properties.get(OFFSET_ACROSS) ?? 0 };
}

function machineOf(element: MachineElement): MachineElement {
  return lineOf(element).at(-1) ?? element;
}

/** From the reference point of the one machine to that of the other. null: not one, nor coupled by placed connectors. */
function between(
  own: MachineElement,
  other: MachineElement,
  task: Task,
  elements: ReadonlyMap<string, MachineElement>,
): Place | null {
  if (own === other) return { alongMm: 0, acrossMm: 0 };
  const couplings = (task.attributes.Connection ?? []).flatMap(({ attributes }) => {
    const ends = [attributes.DeviceElementIdRef_0, attributes.DeviceElementIdRef_1].map(
      (end) => elements.get(end?.xmlId ?? '') ?? null,
    );
    const here = ends.find((end) => end !== null && machineOf(end) === own) ?? null;
    const there = ends.find((end) => end !== null && machineOf(end) === other) ?? null;
    return here === null || there === null ? [] : [[here, there] as const];
  });
  const [only] = couplings;
  if (only === undefined || couplings.length > 1) return null;
  const [here, there] = only.map(placeOf);
  if (!here || !there) return null;
  return { alongMm: there.alongMm - here.alongMm, acrossMm: there.acrossMm - here.acrossMm };
}
