import { greatCircleKm } from '../geometry/great-circle.ts';
import { localProjection } from '../geometry/local-projection.ts';
import { stripsFromLine } from '../geometry/strips-from-line.ts';
import type { TakenLayout } from './commands.ts';
import { failure, type Outcome, type Problem, problem, success } from './problem.ts';
import type { Block, Strip, Treatment } from './trial-document.ts';

/** Degrees, WGS 84. */
export type EdgePoint = readonly [longitude: number, latitude: number];

/** What a layout is drawn up from. */
export interface LayoutToDraw {
  /** The line along the edge of the first strip; strips are as long as it. */
  readonly start: EdgePoint;
  readonly end: EdgePoint;
  /** Where the strips lie, looking from start to end. */
  readonly side: 'left' | 'right';
  readonly stripWidthM: number;
  /** Between one block and the next. */
  readonly gapM: number;
  /** Blocks from the line on, with the treatments of their strips by id or name. */
  readonly blocks: readonly BlockToDraw[];
}

export interface BlockToDraw {
  /** null: the trial has no blocks. */
  readonly block: Block | null;
  readonly strips: readonly { readonly id: string; readonly treatment: string }[];
}

/** A line this short is two clicks on one place; one this long is no edge of a field. */
const SHORTEST_KM = 0.002;
const LONGEST_KM = 10;

/**
 * Strips with their polygons from one edge line, a width and the order of treatments, which is taken as it is: it should
 * have been drawn by lot before. Places count from the line. Refuses with `edgeLineImpossible`, `edgeLineLength`,
 * `stripWidthImpossible`, `noStripsToDraw`, `stripNamedTwice`; `treatmentsAdded` tells of treatments that are new.
 */
export function drawUpLayout(asked: LayoutToDraw, known: readonly Treatment[]): Outcome<TakenLayout> {
  const faults = faultsOf(asked);
  if (faults.length > 0) return failure(...faults);
  const rings = ringsOf(asked);
  const treatments = treatmentsOf(asked, known);
  const idOf = new Map(
    treatments.flatMap(({ id, name }) => [[alike(id), id] as const, [alike(name), id] as const]),
  );
  const strips = asked.blocks.flatMap(({ block, strips: own }) => own.map((strip) => ({ ...strip, block })));
  const drawn = strips.map(
    ({ id, treatment, block }, k): Strip => ({
      id,
      treatment: idOf.get(alike(treatment)) ?? treatment,
      block: block?.id ?? null,
      place: k + 1,
      polygon: { type: 'Polygon', coordinates: [rings[k]!] },
    }),
  );
  const added = treatments.filter(({ id }) => known.every((before) => before.id !== id));
  return success(
    {
      file: null,
      treatments,
      blocks: asked.blocks.flatMap(({ block }) => block ?? []),
      strips: drawn,
    },
    added.length === 0
      ? []
      : [problem('note', 'treatmentsAdded', {}, { treatments: added.map(({ name }) => name) })],
  );
}

/** Length of the edge line on the ellipsoid's plane about its middle, as strips are long. */
export function edgeLengthM({ start, end }: Pick<LayoutToDraw, 'start' | 'end'>): number {
  const { toLocal } = planeOf(start, end);
  const [a, b] = [toLocal(...start), toLocal(...end)];
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function faultsOf({ start, end, stripWidthM, gapM, blocks }: LayoutToDraw): Problem[] {
  const isOnEarth = [start, end].every(
    ([longitude, latitude]) => Math.abs(longitude) <= 180 && Math.abs(latitude) < 90,
  );
  if (!isOnEarth) return [problem('error', 'edgeLineImpossible')];
  const km = greatCircleKm(...start, ...end);
  if (!(km >= SHORTEST_KM && km <= LONGEST_KM))
    return [problem('error', 'edgeLineLength', {}, { lengthM: Math.round(1000 * km) })];
  if (!(stripWidthM > 0 && gapM >= 0)) return [problem('error', 'stripWidthImpossible')];
  const ids = blocks.flatMap(({ strips }) => strips.map(({ id }) => id.trim()));
  if (ids.length === 0) return [problem('error', 'noStripsToDraw')];
  const twice = ids.find((id, k) => ids.indexOf(id) < k);
  return twice === undefined ? [] : [problem('error', 'stripNamedTwice', {}, { strip: twice })];
}

/** Closed, anticlockwise, in degrees. */
function ringsOf({
  start,
  end,
  side,
  stripWidthM,
  gapM,
  blocks,
}: LayoutToDraw): readonly [number, number][][] {
  const { toLocal, toGeographic } = planeOf(start, end);
  const local = stripsFromLine({
    start: toLocal(...start),
    end: toLocal(...end),
    side,
    widthM: stripWidthM,
    groups: blocks.map(({ strips }) => strips.length),
    gapM,
  });
  return local.map((corners) => {
    const ring = corners.map(([east, north]): [number, number] => [...toGeographic(east, north)]);
    return [...ring, ring[0]!];
  });
}

function planeOf(start: EdgePoint, end: EdgePoint) {
  const beside = end[0] - 360 * Math.round((end[0] - start[0]) / 360);
  const middle = (start[0] + beside) / 2;
  return localProjection({
    originLongitude: middle - 360 * Math.round(middle / 360),
    originLatitude: (start[1] + end[1]) / 2,
  });
}

/** Known ones as they are, in their own order; new ones behind, in the order of the strips. */
function treatmentsOf({ blocks }: LayoutToDraw, known: readonly Treatment[]): readonly Treatment[] {
  const named = blocks.flatMap(({ strips }) => strips.map(({ treatment }) => treatment.trim()));
  const isOf = (name: string) => (one: Treatment) =>
    [one.id, one.name].some((own) => alike(own) === alike(name));
  const used = known.filter((one) => named.some((name) => isOf(name)(one)));
  const fresh = named.filter(
    (name, k) => !known.some(isOf(name)) && named.findIndex((other) => alike(other) === alike(name)) === k,
  );
  return [
    ...used,
    ...fresh.map((name) => ({ id: name, name, isCheck: false, costPerHa: null, applicationCostPerHa: null })),
  ];
}

function alike(text: string): string {
  return text.trim().toLowerCase();
}
