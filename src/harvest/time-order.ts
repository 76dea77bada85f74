import type { HarvestPointsInput, PointLabels } from './harvest-input.ts';

const COLUMNS = [
  'longitude',
  'latitude',
  'yieldKgPerHa',
  'massFlowKgPerS',
  'massKg',
  'moisturePercent',
  'speedMPerS',
  'distanceM',
  'widthM',
  'headingDegrees',
  'timeS',
] as const;

const LABELS = ['machine', 'operator', 'day'] as const;

/** More steps back in time than this share means that rows are out of order, not that logs were joined end to end. */
const JOINED_LOGS_SHARE = 0.01;

/**
 * A file as it was driven. Rows out of order are put in order of time; logs joined end to end, where time starts
 * again now and then, are left as they stand. Rows that several machines wrote by turns are put one machine after the
 * other. `order[i]` is the row of the input at place i; null: unchanged.
 */
export function inTimeOrder(input: HarvestPointsInput): {
  readonly driven: HarvestPointsInput;
  readonly order: Int32Array | null;
} {
  const time = input.timeS;
  if (time === null) return { driven: input, order: null };
  const order = orderOfMachines(time, input.machine ?? null) ?? orderDriven(time);
  if (order === null) return { driven: input, order };
  const columns = Object.fromEntries(
    COLUMNS.map((name) => {
      const column = input[name];
      return [name, column === null ? null : Float64Array.from(order, (row) => column[row]!)];
    }),
  ) as Pick<HarvestPointsInput, (typeof COLUMNS)[number]>;
  const header = input.headerDown;
  const headerDown = header === null ? null : Uint8Array.from(order, (row) => header[row]!);
  const labels = Object.fromEntries(
    LABELS.map((name) => [name, inOrder(input[name] ?? null, order)]),
  ) as Pick<HarvestPointsInput, (typeof LABELS)[number]>;
  return { driven: { ...input, ...columns, ...labels, headerDown }, order };
}

function inOrder(labels: PointLabels | null, order: Int32Array): PointLabels | null {
  return labels === null ? null : { ...labels, of: Int16Array.from(order, (row) => labels.of[row]!) };
}

/** One machine after the other, each in order of time; null: a file of one, or of several that do not take turns. */
function orderOfMachines(time: Float64Array, machine: PointLabels | null): Int32Array | null {
  if (machine === null || machine.names.length < 2) return null;
  const { of } = machine;
  let turns = 0;
  for (let i = 1; i < of.length; i++) if (of[i] !== of[i - 1]) turns += 1;
  if (turns <= JOINED_LOGS_SHARE * of.length) return null;
  const order = Int32Array.from({ length: time.length }, (_, i) => i);
  return order.sort((a, b) => of[a]! - of[b]! || time[a]! - time[b]! || a - b);
}

/** The rows in order of time; null: as they stand, since they are in order or logs joined end to end. */
export function orderDriven(time: Float64Array): Int32Array | null {
  let back = 0;
  for (let i = 1; i < time.length; i++) if (time[i]! < time[i - 1]!) back += 1;
  if (back <= JOINED_LOGS_SHARE * time.length) return null;
  const order = Int32Array.from({ length: time.length }, (_, i) => i);
  const key = (i: number) => (Number.isFinite(time[i]!) ? time[i]! : Number.POSITIVE_INFINITY);
  return order.sort((a, b) => (key(a) === key(b) ? a - b : key(a) - key(b)));
}
