import {
  ACTUAL_SPEED,
  isCondensed,
  LOGGED_RATES,
  type LoggedRate,
  rateOf,
  WORK_STATE,
  WORKING_WIDTH,
} from './application-identifiers.ts';
import { widthOf } from './boom-sections.ts';
import { isInLine, isOfOneMachine, type MachineElement } from './machine-elements.ts';
import type { LoggedColumn } from './task-data.ts';

/** An element that puts something out, with the columns that tell of it. */
export interface Outlet {
  readonly id: string;
  readonly rates: readonly { readonly rate: LoggedRate; readonly column: LoggedColumn }[];
  readonly width: LoggedColumn | null;
  readonly speed: LoggedColumn | null;
  /** Fixed, in metres; null: not described. */
  readonly describedM: number | null;
  readonly masters: readonly LoggedColumn[];
  readonly condensed: readonly LoggedColumn[];
  readonly boom: MachineElement | null;
}

/**
 * One outlet for each element that logs a rate. Sections are parts of the boom that they belong to, whose own rate
 * counts where it logs one; a machine that logs a rate beside its tanks logs their sum.
 */
export function outletsOf(
  columns: readonly LoggedColumn[],
  elements: ReadonlyMap<string, MachineElement>,
): readonly Outlet[] {
  const groups = new Map<string, { rate: LoggedRate; column: LoggedColumn }[]>();
  for (const column of bestRates(columns)) {
    const rate = rateOf(column.ddi)!;
    const own = elements.get(column.element);
    const id = own?.kind === 'section' && own.parent !== null ? own.parent.id : column.element;
    groups.set(id, [...(groups.get(id) ?? []), { rate, column }]);
  }
  if (groups.size === 0) return [outletOf('', [], columns, elements)];
  const isOfTanks = (id: string) =>
    [...groups.keys()].some((other) => {
      const [whole, part] = [elements.get(id), elements.get(other)];
      return other !== id && part?.kind === 'bin' && whole !== undefined && isInLine(whole, part);
    });
  return [...groups]
    .filter(([id]) => elements.get(id)?.kind === 'bin' || !isOfTanks(id))
    .map(([id, rates]) => {
      const own = rates.filter(({ column }) => column.element === id);
      const unit = (own[0] ?? rates[0])!.rate.unit;
      const alike = (own.length > 0 ? own : rates).filter(({ rate }) => rate.unit === unit);
      return outletOf(id, alike, columns, elements);
    });
}

/** One rate an element: the measured one before the demanded. */
function bestRates(columns: readonly LoggedColumn[]): readonly LoggedColumn[] {
  const best = new Map<string, LoggedColumn>();
  const rank = ({ ddi }: LoggedColumn) => LOGGED_RATES.findIndex((rate) => rate.ddi === ddi);
  for (const column of columns) {
    if (rank(column) < 0) continue;
    const known = best.get(column.element);
    if (known === undefined || rank(column) < rank(known)) best.set(column.element, column);
  }
  return [...best.values()];
}

function outletOf(
  id: string,
  rates: Outlet['rates'],
  columns: readonly LoggedColumn[],
  elements: ReadonlyMap<string, MachineElement>,
): Outlet {
  const own = elements.get(id) ?? null;
  /** Of the element, else in line with it, else of the same machine; sections speak for themselves alone. */
  const nearest = (wanted: (ddi: number) => boolean): readonly LoggedColumn[] => {
    const all = columns.filter(
      ({ ddi, element }) => wanted(ddi) && elements.get(element)?.kind !== 'section',
    );
    const exact = all.filter(({ element }) => element === id);
    if (exact.length > 0 || own === null) return exact.length > 0 ? exact : all;
    const ofElement = (holds: (a: MachineElement, b: MachineElement) => boolean) =>
      all.filter(({ element }) => {
        const other = elements.get(element);
        return other === undefined || holds(own, other);
      });
    const inLine = ofElement(isInLine);
    return inLine.length > 0 ? inLine : ofElement(isOfOneMachine);
  };
  const condensed = nearest(isCondensed);
  const boomId = condensed[0]?.element;
  const boom = (boomId === undefined ? own : elements.get(boomId)) ?? null;
  const widthMm = [boom, own, own?.parent ?? null].flatMap((one) =>
    one === null ? [] : (widthOf(one) ?? []),
  )[0];
  return {
    id,
    rates,
    width: nearest((ddi) => ddi === WORKING_WIDTH)[0] ?? null,
    describedM: widthMm === undefined ? null : widthMm / 1000,
    speed: nearest((ddi) => ddi === ACTUAL_SPEED)[0] ?? null,
    masters: nearest((ddi) => ddi === WORK_STATE),
    condensed: condensed.filter(({ element }) => element === boomId),
    boom,
  };
}
