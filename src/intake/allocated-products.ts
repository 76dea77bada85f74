/// <reference path="./file-readers.d.ts" />
import type { Task } from 'isoxml';
import type { ToLogClock } from './allocation-clock.ts';
import { isInLine, isOfOneMachine, type MachineElement } from './machine-elements.ts';

/** A product that a task allocates to the machine, or to an element of it. */
interface Allocation {
  readonly product: string;
  readonly element: MachineElement | null;
  /** By the clock that the log was written by, in ms; null: not said. */
  readonly fromMs: number | null;
  readonly untilMs: number | null;
}

/** What was in an element's tank at a time; null: several products, and their times do not tell. */
export type ProductAt = (timeMs: number) => string | null;

const FILLING = '1';
const EFFECTIVE = '4';

/**
 * Which product did an element of the machine put out? Allocations to the element or to a part or whole of it count
 * before those to the rest of its machine, those without an element always. Allocated at one time, or at none, they
 * are a tank mix ("A + B"); else each holds from its beginning to its end, a filling to the next allocation. Without
 * allocations the one product counts that the task's treatment zones name.
 */
export function productOfTask(
  task: Task,
  element: MachineElement | null,
  elements: ReadonlyMap<string, MachineElement>,
  clock: ToLogClock | null,
): ProductAt {
  const all = allocationsOf(task, elements, clock ?? ((time) => time.getTime()));
  const near = all.filter(
    (one) => one.element === null || (element !== null && isInLine(one.element, element)),
  );
  const sameMachine = all.filter(
    (one) => one.element === null || element === null || isOfOneMachine(one.element, element),
  );
  const given = near.length > 0 ? near : sameMachine;
  const names = [...new Set(given.map(({ product }) => product))];
  const starts = new Set(given.map(({ fromMs }) => fromMs));
  if (names.length < 2 || starts.size < 2) return () => mixOf(names);
  if (clock === null) return () => null;
  const times = given.flatMap(({ fromMs }) => fromMs ?? []).sort((a, b) => a - b);
  return (timeMs) => {
    const holding = given.filter(({ fromMs, untilMs }) => {
      if (fromMs === null) return true;
      const next = times.find((time) => time > fromMs) ?? Number.POSITIVE_INFINITY;
      return fromMs <= timeMs && timeMs < (untilMs ?? next);
    });
    const held = [...new Set(holding.map(({ product }) => product))];
    return held.length === 0 ? null : mixOf(held);
  };
}

function mixOf(names: readonly string[]): string {
  return names.join(' + ');
}

function allocationsOf(
  { attributes }: Task,
  elements: ReadonlyMap<string, MachineElement>,
  clock: ToLogClock,
): readonly Allocation[] {
  const clockMs = (time: Date | undefined) =>
    time === undefined || Number.isNaN(time.getTime()) ? null : clock(time);
  const allocated = (attributes.ProductAllocation ?? []).flatMap(({ attributes: own }): Allocation[] => {
    const product = nameOf(own.ProductIdRef);
    if (product === null) return [];
    const element = elements.get(own.DeviceElementIdRef?.xmlId ?? '') ?? null;
    const stamps = (own.AllocationStamp ?? []).filter((stamp) => stamp.attributes.Type === EFFECTIVE);
    const always = { product, element, fromMs: null, untilMs: null };
    if (stamps.length === 0) return [always];
    return stamps.map((stamp) => {
      const { Start: start, Stop: stop } = stamp.attributes;
      const untilMs = own.TransferMode === FILLING ? null : clockMs(stop);
      return { ...always, fromMs: clockMs(start), untilMs };
    });
  });
  if (allocated.length > 0) return allocated;
  const zones = (attributes.TreatmentZone ?? []).flatMap((zone) => zone.attributes.ProcessDataVariable ?? []);
  const named = new Set(zones.flatMap((variable) => nameOf(variable.attributes.ProductIdRef) ?? []));
  if (named.size !== 1) return [];
  return [...named].map((product) => ({ product, element: null, fromMs: null, untilMs: null }));
}

const LONGEST_NAME = 120;

function nameOf(
  reference: { entity?: { attributes: { ProductDesignator?: string } } } | undefined,
): string | null {
  const name = reference?.entity?.attributes.ProductDesignator?.trim().slice(0, LONGEST_NAME) ?? '';
  return name === '' ? null : name;
}
