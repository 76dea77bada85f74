/// <reference path="./file-readers.d.ts" />
import type { ISOXMLManager } from 'isoxml';

/** An element of a machine as task data describe it: the whole, a function, a bin, a section, a place of the receiver ... */
export interface MachineElement {
  /** As logs and allocations name it. */
  readonly id: string;
  readonly kind: 'whole' | 'function' | 'bin' | 'section' | 'navigation' | 'other';
  readonly parent: MachineElement | null;
  readonly children: readonly MachineElement[];
  /** Fixed values by identifier of the data dictionary, as they stand (mm for lengths). */
  readonly properties: ReadonlyMap<number, number>;
}

interface Growing extends MachineElement {
  parent: Growing | null;
  readonly children: Growing[];
}

/** Device element types of ISO 11783-10; a unit (of a planter) is a section that holds no others. */
const KINDS: Readonly<Record<string, MachineElement['kind']>> = {
  1: 'whole',
  2: 'function',
  3: 'bin',
  4: 'section',
  5: 'section',
  7: 'navigation',
};

/** All elements of all machines, by the name under which they are logged. */
export function machineElements(manager: ISOXMLManager): ReadonlyMap<string, MachineElement> {
  const all = new Map<string, MachineElement>();
  for (const { attributes } of manager.rootElement.attributes.Device ?? []) {
    const { DeviceElement: described = [], DeviceProperty: properties = [] } = attributes;
    const byObject = new Map<number, Growing>();
    for (const element of described) {
      const id = manager.getReferenceByEntity(element)?.xmlId;
      const {
        DeviceElementObjectId: object,
        DeviceElementType: type = '',
        DeviceObjectReference: refs = [],
      } = element.attributes;
      if (id === undefined || object === undefined) continue;
      const referred = new Set(refs.map((ref) => ref.attributes.DeviceObjectId));
      const own = properties.flatMap((property): (readonly [number, number])[] => {
        const { DevicePropertyObjectId, DevicePropertyDDI, DevicePropertyValue: value } = property.attributes;
        const isOwn = referred.has(DevicePropertyObjectId);
        return isOwn && value !== undefined && Number.isFinite(value)
          ? [[Number.parseInt(DevicePropertyDDI ?? '', 16), value]]
          : [];
      });
      const kind = KINDS[type] ?? 'other';
      byObject.set(object, { id, kind, parent: null, children: [], properties: new Map(own) });
    }
    for (const { attributes: own } of described) {
      const child = byObject.get(own.DeviceElementObjectId ?? -1);
      const parent = byObject.get(own.ParentObjectId ?? -1);
      if (child === undefined || parent === undefined || child.parent !== null) continue;
      if (lineOf(parent).includes(child)) continue;
      child.parent = parent;
      parent.children.push(child);
    }
    for (const element of byObject.values()) all.set(element.id, element);
  }
  return all;
}

/** The element, what it is part of, and so on up to the whole machine. */
export function lineOf(element: MachineElement): readonly MachineElement[] {
  const line: MachineElement[] = [];
  for (let at: MachineElement | null = element; at !== null; at = at.parent) line.push(at);
  return line;
}

/** Is one part of the other, or both the same? */
export function isInLine(a: MachineElement, b: MachineElement): boolean {
  return lineOf(a).includes(b) || lineOf(b).includes(a);
}

export function isOfOneMachine(a: MachineElement, b: MachineElement): boolean {
  return lineOf(a).at(-1) === lineOf(b).at(-1);
}
