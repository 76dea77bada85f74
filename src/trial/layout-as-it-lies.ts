import { inDegrees } from '../geometry/angle.ts';
import { polygonCentroid, toLocalPolygon } from '../geometry/local-polygon.ts';
import { type LocalPosition, localProjection } from '../geometry/local-projection.ts';
import { type OrientedStrip, orientedStrip } from '../geometry/oriented-strip.ts';
import { commonAcross, placesAcross } from '../geometry/place-across.ts';
import { movedPosition, type PlaneMove } from '../geometry/plane-move.ts';
import { type DisplayUnit, lengthUnit } from './display-units.ts';
import { frameOfStrips } from './frame-of-strips.ts';
import type { LayoutMove } from './layout-move-schema.ts';
import { withPlacesByPass } from './places-by-pass.ts';
import { type Problem, problem } from './problem.ts';
import type { Strip, StripPolygon, TrialDocument } from './trial-document.ts';

type Pin = NonNullable<LayoutMove['pinned']>;

/**
 * The trial with its strips where they lie, not where they were planned: whoever places strips on the ground asks
 * for this one, in which the move is done and no longer stands. A trial without a move is returned as it is, but that strips known
 * by their passes get their places from them. Where
 * strips cannot be renumbered their ground is not known, and they have no polygon.
 */
export function trialAsItLies(trial: TrialDocument): TrialDocument {
  const { layoutMove, ...rest } = trial;
  if (layoutMove === undefined) return withPlacesByPass(withOutlinesAsApplied(trial));
  const moved = { ...rest, strips: stripsAsTheyLie(trial.strips, layoutMove) };
  return withPlacesByPass(withOutlinesAsApplied(moved));
}

/** Where an application log has the strip's outline, that one wins over the plan's, moved or not. */
function withOutlinesAsApplied(trial: TrialDocument): TrialDocument {
  if (trial.strips.every(({ appliedPolygon }) => !appliedPolygon)) return trial;
  return {
    ...trial,
    strips: trial.strips.map(({ appliedPolygon, ...strip }) =>
      appliedPolygon ? { ...strip, polygon: appliedPolygon } : strip,
    ),
  };
}

/** What is to be said of the move beside the answer. */
export function layoutMoveProblems({ strips, layoutMove }: TrialDocument): readonly Problem[] {
  if (layoutMove === undefined) return [];
  if (needsRenumbering(layoutMove) && renumberedStrips(strips) === null)
    return [problem('error', 'renumberingImpossible')];
  const details = { move: layoutMoveText(layoutMove), isProposed: layoutMove.how === 'proposed' };
  return [problem('note', 'layoutMoved', {}, details)];
}

/** "3.2 m east, 1 m south, turned 0.4 degrees clockwise, mirrored, renumbered". */
export function layoutMoveText(
  { eastM, northM, turnDegrees, mirrored, renumbered }: LayoutMove,
  { label, perSi }: DisplayUnit = lengthUnit('metric'),
): string {
  const parts = [
    eastM === 0 ? null : `${shown(eastM * perSi)} ${label} ${eastM > 0 ? 'east' : 'west'}`,
    northM === 0 ? null : `${shown(northM * perSi)} ${label} ${northM > 0 ? 'north' : 'south'}`,
    turnDegrees === 0
      ? null
      : `turned ${shown(turnDegrees)} degrees ${turnDegrees > 0 ? 'clockwise' : 'anticlockwise'}`,
    mirrored ? 'mirrored' : null,
    renumbered ? 'numbered from the other edge' : null,
  ];
  return parts.filter((part) => part !== null).join(', ');
}

/** The move with middle and axis written down, and the strips on the ground that renumbering gave them. */
export function pinnedLayout(
  strips: readonly Strip[],
  move: LayoutMove,
): { readonly strips: readonly Strip[]; readonly move: LayoutMove } {
  const pinned = move.pinned ?? pinOf(strips);
  if (pinned === null) return { strips, move };
  const renumbered = needsRenumbering(move) ? renumberedStrips(strips) : strips;
  return { strips: renumbered ?? strips, move: { ...move, pinned } };
}

/**
 * The strips, each on the ground (polygon and place) of the one that lies as far from the other edge. Strips that
 * share a place across the field, end to end, keep their order along it. null where places do not pair up.
 */
export function renumberedStrips(strips: readonly Strip[]): readonly Strip[] | null {
  const lying = lyingStrips(strips);
  if (lying.length === 0) return strips;
  const places = placesAcross(lying);
  const [acrossEast, acrossNorth] = commonAcross(lying.map(({ oriented }) => oriented));
  const along = ({ centroid: [east, north] }: LyingStrip) => north * acrossEast - east * acrossNorth;
  const last = Math.max(...places);
  const atPlace = Array.from({ length: last }, (_, place) =>
    lying.filter((_, i) => places[i] === place + 1).sort((a, b) => along(a) - along(b)),
  );
  const groundOf = new Map<Strip, Strip>();
  for (const [place, own] of atPlace.entries()) {
    const other = atPlace[last - 1 - place]!;
    if (other.length !== own.length) return null;
    own.forEach(({ strip }, i) => {
      groundOf.set(strip, other[i]!.strip);
    });
  }
  return strips.map((strip) => {
    const ground = groundOf.get(strip);
    return ground === undefined ? strip : { ...strip, polygon: ground.polygon, place: ground.place };
  });
}

function stripsAsTheyLie(planned: readonly Strip[], move: LayoutMove): Strip[] {
  const pinned = move.pinned ?? pinOf(planned);
  if (pinned === null) return [...planned];
  const strips = needsRenumbering(move) ? renumberedStrips(planned) : planned;
  if (strips === null) return planned.map((strip) => ({ ...strip, polygon: null }));
  return strips.map((strip) => ({ ...strip, polygon: movedPolygon(strip.polygon, move, pinned) }));
}

function needsRenumbering({ renumbered, pinned }: LayoutMove): boolean {
  return renumbered && pinned === undefined;
}

function movedPolygon(polygon: StripPolygon | null, move: LayoutMove, pinned: Pin): StripPolygon | null {
  const { eastM, northM, turnDegrees, mirrored } = move;
  // What did not move keeps its last digits.
  if (polygon === null || (eastM === 0 && northM === 0 && turnDegrees === 0 && !mirrored)) return polygon;
  const plane: PlaneMove = { eastM, northM, turnDegrees, mirrored, axisDegrees: pinned.axisDegrees };
  const { toLocal, toGeographic } = localProjection({
    originLongitude: pinned.longitude,
    originLatitude: pinned.latitude,
  });
  const moved = ([longitude, latitude, ...rest]: Position): Position => [
    ...toGeographic(...movedPosition(plane, toLocal(longitude, latitude))),
    ...rest,
  ];
  if (polygon.type === 'Polygon')
    return { ...polygon, coordinates: polygon.coordinates.map((ring) => ring.map(moved)) };
  return {
    ...polygon,
    coordinates: polygon.coordinates.map((part) => part.map((ring) => ring.map(moved))),
  };
}

type Position = [longitude: number, latitude: number, ...rest: number[]];

interface LyingStrip {
  readonly strip: Strip;
  readonly oriented: OrientedStrip;
  readonly centroid: LocalPosition;
}

function lyingStrips(strips: readonly Strip[]): readonly LyingStrip[] {
  const frame = frameOfStrips(strips);
  if (frame === null) return [];
  const projection = localProjection(frame);
  return strips.flatMap((strip) => {
    if (strip.polygon === null) return [];
    const polygon = toLocalPolygon(strip.polygon, projection);
    return [{ strip, oriented: orientedStrip(polygon), centroid: polygonCentroid(polygon) }];
  });
}

/** Middle of the strips and heading of their common axis; null where none has a polygon. */
export function pinOf(strips: readonly Strip[]): Pin | null {
  const frame = frameOfStrips(strips);
  if (frame === null) return null;
  const [acrossEast, acrossNorth] = commonAcross(lyingStrips(strips).map(({ oriented }) => oriented));
  const axisDegrees = inDegrees(Math.atan2(-acrossNorth, acrossEast));
  return { longitude: frame.originLongitude, latitude: frame.originLatitude, axisDegrees };
}

function shown(value: number): number {
  return Math.abs(Number(value.toFixed(2)));
}
