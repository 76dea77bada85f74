/// <reference path="./file-readers.d.ts" />
import type { LoggedRecord } from 'isoxml';
import type { ProductAt } from './allocated-products.ts';
import { CONDENSED_FIRST } from './application-identifiers.ts';
import type { SwathPart } from './application-log.ts';
import { partsOn, type SectionStates, sectionsOf, statesInWord } from './boom-sections.ts';
import type { Outlet } from './machine-outlets.ts';
import { type LoggedColumn, positionTexts, timeText, valueIn } from './task-data.ts';

/** Rows of one outlet from one log, as a table holds them, and how many of its records are in doubt. */
export interface AppliedRecords {
  /** Time, longitude, latitude, rate or flow, width in m, speed in m/s, state, product; blank: not known. */
  readonly rows: readonly string[][];
  readonly parts: readonly (readonly SwathPart[] | null)[];
  /** Values that stood from a record before. */
  readonly carried: number;
  readonly notPlaced: number;
  readonly notAllocated: number;
}

/** A record holds only what was logged at that moment; values stand until the next of their kind. */
export function appliedRecords(
  records: readonly LoggedRecord[],
  outlet: Outlet,
  productAt: ProductAt,
): AppliedRecords {
  const sections = outlet.boom === null ? null : sectionsOf(outlet.boom);
  const count = outlet.boom?.children.filter(({ kind }) => kind === 'section').length ?? 0;
  const extentM = sections === null ? null : sections.at(-1)!.rightM - sections[0]!.leftM;
  const last = new Map<string, number>();
  const rows: string[][] = [];
  const placed: (readonly SwathPart[] | null)[] = [];
  let [carried, notPlaced, notAllocated] = [0, 0, 0];
  const kept = [...outlet.rates.map(({ column }) => column), ...outlet.masters, ...outlet.condensed];
  const followed = [...kept, ...[outlet.width, outlet.speed].filter((column) => column !== null)];
  for (const record of records) {
    for (const { key } of followed) {
      const now = valueIn(record, key);
      if (now !== null) last.set(key, now);
      else if (last.has(key)) carried += 1;
    }
    // Where the machine is described, words hold more places than it has sections.
    const states = sectionStates(outlet.condensed, last).slice(0, count > 0 ? count : undefined);
    const state = stateOf(outlet.masters, states, last);
    const isPartly = state === 'on' && states.includes(true) && states.includes(false);
    const parts = isPartly ? partsOn(states, sections) : null;
    if (isPartly && parts === null) notPlaced += 1;
    const product = productAt(record.time.getTime());
    if (product === null) notAllocated += 1;
    placed.push(parts);
    rows.push([
      timeText(record),
      ...positionTexts(record),
      rateText(outlet.rates, last),
      widthText(outlet, last, extentM),
      speedText(outlet.speed, last),
      state,
      product ?? '',
    ]);
  }
  return { rows, parts: placed, carried, notPlaced, notAllocated };
}

function sectionStates(condensed: readonly LoggedColumn[], last: ReadonlyMap<string, number>): SectionStates {
  return [...condensed]
    .sort((a, b) => a.ddi - b.ddi)
    .flatMap(({ ddi, key }) => {
      const word = last.get(key);
      const states = word === undefined ? [] : statesInWord(word);
      const first = 16 * (ddi - CONDENSED_FIRST);
      return states.map((state, k) => ({ state, at: first + k }));
    })
    .reduce<(boolean | null)[]>((all, { state, at }) => {
      while (all.length < at) all.push(null);
      all[at] = state;
      return all;
    }, []);
}

/** Off where the whole is off, or all its sections; a state that is neither on nor off says nothing. */
function stateOf(
  masters: readonly LoggedColumn[],
  states: SectionStates,
  last: ReadonlyMap<string, number>,
): 'on' | 'off' | '' {
  const said = masters
    .flatMap(({ key }) => last.get(key) ?? [])
    .filter((state) => state === 0 || state === 1);
  if (said.length > 0 && !said.includes(1)) return 'off';
  if (states.includes(true)) return 'on';
  if (states.includes(false)) return 'off';
  return said.includes(1) ? 'on' : '';
}

/** Of several sections the mean of those that put something out; of flows the sum. */
function rateText(rates: Outlet['rates'], last: ReadonlyMap<string, number>): string {
  const raw = rates.flatMap(({ rate, column }) => {
    const value = last.get(column.key);
    return value === undefined ? [] : [value * rate.factor];
  });
  if (raw.length === 0) return '';
  const sum = raw.reduce((total, value) => total + value, 0);
  if (rates[0]?.rate.isFlow === true) return plainText(sum);
  const above = raw.filter((value) => value > 0);
  return plainText(
    above.length === 0 ? raw[0]! : above.reduce((total, value) => total + value, 0) / above.length,
  );
}

function widthText(
  { width, describedM }: Outlet,
  last: ReadonlyMap<string, number>,
  extentM: number | null,
): string {
  const logged = width === null ? undefined : last.get(width.key);
  const widthM = logged === undefined ? (describedM ?? extentM) : logged / 1000;
  return widthM === null ? '' : plainText(widthM);
}

function speedText(speed: LoggedColumn | null, last: ReadonlyMap<string, number>): string {
  const logged = speed === null ? undefined : last.get(speed.key);
  return logged === undefined ? '' : plainText(logged / 1000);
}

function plainText(value: number): string {
  return String(Number(value.toPrecision(12)));
}
