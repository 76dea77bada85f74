import { inRadians } from '../geometry/angle.ts';
import type { LocalPosition } from '../geometry/local-projection.ts';
import type { OrientedStrip } from '../geometry/oriented-strip.ts';

/** Where one pass cut, at one place along it. */
export interface CutStation {
  readonly at: LocalPosition;
  /** Cut there for the first time, as a length along the pass times a width: what the station counts for. */
  readonly weightM2: number;
}

/** One pass as a line of stations, in the order of the field. */
export interface StationedLine {
  readonly headerM: number;
  readonly stations: readonly CutStation[];
}

/** A strip in the axes of the layout: its middle line leans by `lean` across for each metre along. */
export interface LaidStrip {
  readonly middleAlongM: number;
  readonly middleAcrossM: number;
  readonly lean: number;
  readonly halfLengthM: number;
  readonly halfWidthM: number;
}

/** The layout's own axes: `along` is a unit vector, across a quarter turn to the right of it. */
export interface LayoutAxes {
  readonly centre: LocalPosition;
  readonly along: LocalPosition;
}

/** Moves of the layout in its own axes: first turned clockwise about its centre, then shifted along the turned axes. */
export interface SmallMove {
  readonly turnDegrees: number;
  readonly acrossM: number;
  readonly alongM: number;
}

export const NO_MOVE: SmallMove = { turnDegrees: 0, acrossM: 0, alongM: 0 };

export function laidStrip(strip: OrientedStrip, centroid: LocalPosition, axes: LayoutAxes): LaidStrip {
  const [middleAlongM, middleAcrossM] = inAxes(axes, centroid);
  const [east, north] = axes.along;
  const along = strip.alongEast * east + strip.alongNorth * north;
  const across = strip.alongEast * north - strip.alongNorth * east;
  return {
    middleAlongM,
    middleAcrossM,
    lean: across / along,
    halfLengthM: (strip.lengthM / 2) * Math.abs(along),
    halfWidthM: strip.widthM / 2 / Math.abs(along),
  };
}

/** Along and across, from the centre of the axes. */
export function inAxes({ centre, along }: LayoutAxes, [eastM, northM]: LocalPosition): LocalPosition {
  const [east, north] = [eastM - centre[0], northM - centre[1]];
  return [east * along[0] + north * along[1], east * along[1] - north * along[0]];
}

/** Stations as the layout sees them once it is turned: along, across, header, weight. */
interface SeenStation {
  readonly alongM: number;
  readonly acrossM: number;
  readonly headerM: number;
  readonly weightM2: number;
  /** Left and right sides of the strips there, in turn, from the left. */
  readonly sides: Float64Array;
}

/**
 * How well does a layout fit what was cut? Of all ground cut, the share that headers cut inside one strip: of a header
 * over a side the part that lies in the strip it lies in most. To be asked again and again for other shifts across.
 */
export function fitAcross(
  lines: readonly StationedLine[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  { turnDegrees, alongM }: Omit<SmallMove, 'acrossM'>,
): (acrossM: number) => number {
  const seen = lines.flatMap((line) => seenStations(line, strips, axes, turnDegrees, alongM));
  const all = seen.reduce((sum, { weightM2 }) => sum + weightM2, 0);
  return (acrossM) => {
    let inside = 0;
    for (const station of seen) inside += station.weightM2 * shareInOneStrip(station, acrossM);
    return all > 0 ? inside / all : 0;
  };
}

/** How many strips have a pass over their middle, and how many of them a pass that lies in them as `passesWithin` says. */
export function stripsServed(
  leastShare: number,
  lines: readonly StationedLine[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  move: SmallMove,
): { readonly met: number; readonly served: number } {
  const passes = lines.map((line) => ({
    middleM: middleAcrossM(line, axes, move),
    headerM: line.headerM,
    isWhole: passesWithin(leastShare, [line], strips, axes, move).length > 0,
  }));
  let [met, served] = [0, 0];
  for (const { middleAcrossM: stripM, halfWidthM } of strips) {
    if (passes.some(({ middleM, headerM }) => Math.abs(middleM - stripM) < headerM / 2)) met += 1;
    else continue;
    if (passes.some(({ middleM, isWhole }) => isWhole && Math.abs(middleM - stripM) < halfWidthM))
      served += 1;
  }
  return { met, served };
}

/** Of a pass half way along it, as the moved layout sees it. */
export function middleAcrossM({ stations }: StationedLine, axes: LayoutAxes, move: SmallMove): number {
  const middle = stations[stations.length >> 1]!;
  return inAxes(turnedAxes(axes, move.turnDegrees), middle.at)[1] - move.acrossM;
}

/** Passes of which at least this share of the header lies in one strip over more than half of their way. */
export function passesWithin<T extends StationedLine>(
  leastShare: number,
  lines: readonly T[],
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  { turnDegrees, acrossM, alongM }: SmallMove,
): readonly T[] {
  return lines.filter((line) => {
    const stations = seenStations(line, strips, axes, turnDegrees, alongM);
    const within = stations.filter((station) => shareInOneStrip(station, acrossM) >= leastShare);
    return 2 * within.length > stations.length;
  });
}

export function turnedAxes({ centre, along }: LayoutAxes, turnDegrees: number): LayoutAxes {
  const turn = inRadians(turnDegrees);
  const [cosine, sine] = [Math.cos(turn), Math.sin(turn)];
  const [east, north] = along;
  return { centre, along: [east * cosine + north * sine, north * cosine - east * sine] };
}

function seenStations(
  { headerM, stations }: StationedLine,
  strips: readonly LaidStrip[],
  axes: LayoutAxes,
  turnDegrees: number,
  shiftAlongM: number,
): SeenStation[] {
  const turned = turnedAxes(axes, turnDegrees);
  return stations.map(({ at, weightM2 }) => {
    const [alongM, acrossM] = inAxes(turned, at);
    return { alongM, acrossM, headerM, weightM2, sides: sidesAt(strips, alongM - shiftAlongM) };
  });
}

function sidesAt(strips: readonly LaidStrip[], alongM: number): Float64Array {
  const there = strips
    .filter(({ middleAlongM, halfLengthM }) => Math.abs(alongM - middleAlongM) <= halfLengthM)
    .map(({ middleAlongM, middleAcrossM, lean, halfWidthM }) => {
      const middle = middleAcrossM + lean * (alongM - middleAlongM);
      return [middle - halfWidthM, middle + halfWidthM] as const;
    })
    .sort((a, b) => a[0] - b[0]);
  return Float64Array.from(there.flat());
}

function shareInOneStrip({ acrossM, headerM, sides }: SeenStation, shiftM: number): number {
  const left = acrossM - shiftM - headerM / 2;
  const right = left + headerM;
  let most = 0;
  for (let i = firstEndingBeyond(sides, left); i < sides.length && sides[i]! < right; i += 2) {
    most = Math.max(most, Math.min(right, sides[i + 1]!) - Math.max(left, sides[i]!));
  }
  return most / headerM;
}

/** Place of the first strip whose right side lies beyond; strips lie from the left. */
function firstEndingBeyond(sides: Float64Array, acrossM: number): number {
  let [low, high] = [0, sides.length / 2];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sides[2 * middle + 1]! <= acrossM) low = middle + 1;
    else high = middle;
  }
  return 2 * low;
}
