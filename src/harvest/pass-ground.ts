import { localPolygon, polygonAreaM2, polygonCentroid } from '../geometry/local-polygon.ts';
import type { LocalPosition } from '../geometry/local-projection.ts';
import { orientedStripAlong } from '../geometry/oriented-strip.ts';
import type { Corner } from '../geometry/overlap.ts';
import type { CutSpan, FieldPass } from './field-passes.ts';
import type { PlacedFile } from './placed-file.ts';
import type { StripGround } from './strip-ground.ts';

/** The outline follows the track from station to station this far apart. */
const STATION_M = 20;

/**
 * The ground that a pass cut, as a ring: the track from the rear of its first point's ground to its last point, as
 * wide as the header. Corners run up its left side and down its right.
 */
export function passOutline(
  { spans }: Pick<FieldPass, 'spans'>,
  { eastM, northM }: Pick<PlacedFile, 'eastM' | 'northM'>,
  widthM: number,
): readonly Corner[] {
  const place = (i: number): LocalPosition => [eastM[i]!, northM[i]!];
  const line = stationsOf(spans, place);
  const sides = line.map((at, k) => besides(at, line[k - 1] ?? at, line[k + 1] ?? at, widthM / 2));
  return [...sides.map(([left]) => left), ...sides.map(([, right]) => right).reverse()];
}

function stationsOf(
  spans: readonly CutSpan[],
  place: (i: number) => LocalPosition,
): readonly LocalPosition[] {
  const first = spans[0]!.first;
  const last = place(spans.at(-1)!.end - 1);
  const stations = [rearOf(place(first), place(first + 1))];
  for (const span of spans) {
    for (let i = span.first; i < span.end; i++) {
      const at = place(i);
      if (apartM(at, stations.at(-1)!) >= STATION_M && apartM(at, last) >= STATION_M) stations.push(at);
    }
  }
  return [...stations, last];
}

/** The first point stands for ground behind it, as long as the step to the next. */
function rearOf(first: LocalPosition, second: LocalPosition): LocalPosition {
  return [2 * first[0] - second[0], 2 * first[1] - second[1]];
}

function apartM(a: LocalPosition, b: LocalPosition): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function besides(
  at: LocalPosition,
  before: LocalPosition,
  after: LocalPosition,
  byM: number,
): readonly [Corner, Corner] {
  const [east, north] = [after[0] - before[0], after[1] - before[1]];
  const length = Math.hypot(east, north) || 1;
  const [rightEast, rightNorth] = [(north / length) * byM, (-east / length) * byM];
  return [
    [at[0] - rightEast, at[1] - rightNorth],
    [at[0] + rightEast, at[1] + rightNorth],
  ];
}

/** A strip's ground, one part a pass; its axis is the way that its passes run. */
export function groundOfPasses(
  strip: { readonly index: number; readonly id: string },
  outlines: readonly (readonly Corner[])[],
): StripGround {
  const polygon = outlines.flatMap((outline) => localPolygon(outline));
  return {
    ...strip,
    polygon,
    oriented: orientedStripAlong(polygon, axisOf(outlines)),
    areaM2: polygonAreaM2(polygon),
    centroid: polygonCentroid(polygon),
  };
}

/** Mean way of the outlines' left sides, whichever way each was driven. */
function axisOf(outlines: readonly (readonly Corner[])[]): LocalPosition {
  let [east, north] = [0, 0];
  for (const outline of outlines) {
    const [from, to] = [outline[0]!, outline[outline.length / 2 - 1]!];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const sign = dx * east + dy * north < 0 ? -1 : 1;
    east += sign * dx;
    north += sign * dy;
  }
  const length = Math.hypot(east, north);
  return [east / length, north / length];
}
