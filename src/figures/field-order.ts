import type { ReportModel, ReportStrip } from '../findings/report-model.ts';

/** A strip at its slot from the left edge, with its value of one response. */
export interface PlacedStrip {
  readonly strip: ReportStrip;
  readonly slot: number;
  readonly value: number | null;
}

/** Neighbouring strips of one block; a block whose strips lie apart has several. */
export interface BlockRun {
  readonly block: string;
  readonly firstSlot: number;
  readonly lastSlot: number;
  /** Plain mean of the values that the answer uses; null where there are none. */
  readonly mean: number | null;
}

export interface FieldOrder {
  readonly strips: readonly PlacedStrip[];
  readonly slots: number;
  readonly runs: readonly BlockRun[];
  /** False where places are unknown or shared: then strips stand in the order of the report. */
  readonly asTheyLie: boolean;
}

/** Gaps between places are kept while no more than half of the slots would stay empty. */
const MOST_SLOTS_PER_STRIP = 2;

export function fieldOrder(report: ReportModel, response: string): FieldOrder {
  const places = report.strips.map((strip) => strip.place);
  const asTheyLie = places.every((place) => place !== null) && new Set(places).size === places.length;
  const ordered = asTheyLie
    ? report.strips.toSorted((a, b) => (a.place ?? 0) - (b.place ?? 0))
    : report.strips;
  const slotOf = asTheyLie ? slotsByPlace(ordered) : ordered.map((_, index) => index);
  const strips = ordered.map((strip, index) => ({
    strip,
    slot: slotOf[index] ?? index,
    value: strip.values.find((value) => value.response === response)?.value ?? null,
  }));
  const last = strips.at(-1);
  return { strips, slots: last === undefined ? 0 : last.slot + 1, runs: blockRuns(strips), asTheyLie };
}

function slotsByPlace(ordered: readonly ReportStrip[]): readonly number[] {
  const places = ordered.map((strip) => strip.place ?? 0);
  const first = places[0] ?? 0;
  const span = (places.at(-1) ?? 0) - first + 1;
  const whole = places.every((place) => Number.isInteger(place));
  if (!whole || span > MOST_SLOTS_PER_STRIP * places.length) return places.map((_, index) => index);
  return places.map((place) => place - first);
}

function blockRuns(strips: readonly PlacedStrip[]): readonly BlockRun[] {
  const groups: { block: string; members: PlacedStrip[] }[] = [];
  let before: string | null = null;
  for (const placed of strips) {
    const block = placed.strip.block;
    if (block !== null && block === before) groups.at(-1)?.members.push(placed);
    else if (block !== null) groups.push({ block, members: [placed] });
    before = block;
  }
  return groups.map(({ block, members }) => ({
    block,
    firstSlot: members[0]?.slot ?? 0,
    lastSlot: members.at(-1)?.slot ?? 0,
    mean: meanOf(members.filter((member) => member.strip.used).flatMap((member) => member.value ?? [])),
  }));
}

function meanOf(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
