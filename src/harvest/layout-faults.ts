import { inDegrees } from '../geometry/angle.ts';
import { greatCircleKm } from '../geometry/great-circle.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { overlapAreaM2 } from '../geometry/overlap.ts';
import { commonAcross, placesAcross } from '../geometry/place-across.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { Strip } from '../trial/trial-document.ts';
import { type StripGround, stripGrounds } from './strip-ground.ts';

/** Below this share of the smaller strip an overlap is a sliver of drawing, not a fault. */
const SLIVER_SHARE = 0.01;
/** Strips of one trial run alike within this many degrees. */
const ALIKE_DEGREES = 10;
/** One trial lies in one field. */
const ONE_FIELD_KM = 20;

/**
 * What is wrong with a layout before anything is harvested? Strips without ground, strips on the same ground, strips
 * that run across the others, strips too far apart for one field. All are warnings with the strips' ids.
 */
export function layoutFaults(
  strips: readonly Strip[],
  frame: LocalFrame | null = frameOfStrips(strips),
): readonly Problem[] {
  if (frame === null) return [];
  const grounds = stripGrounds(strips, frame);
  const solid = grounds.filter(({ areaM2 }) => areaM2 > 0);
  return [
    ...grounds
      .filter(({ areaM2 }) => !(areaM2 > 0))
      .map(({ id }) => problem('warning', 'stripWithoutArea', {}, { strip: id })),
    ...overlaps(solid),
    ...runningAcross(solid),
    ...farApart(solid, frame),
  ];
}

/** Places 1, 2, ... across the field by strip id, counted from the west; strips without a polygon are left out. */
export function placesOfStrips(strips: readonly Strip[]): ReadonlyMap<string, number> {
  const frame = frameOfStrips(strips);
  if (frame === null) return new Map();
  const grounds = stripGrounds(strips, frame).filter(({ areaM2 }) => areaM2 > 0);
  const places = placesAcross(grounds);
  return new Map(grounds.map(({ id }, i) => [id, places[i]!]));
}

function overlaps(grounds: readonly StripGround[]): Problem[] {
  return grounds.flatMap((first, i) =>
    grounds.slice(i + 1).flatMap((second) => {
      const overlapM2 = overlapAreaM2(first.polygon, second.polygon);
      const share = overlapM2 / Math.min(first.areaM2, second.areaM2);
      if (!(share > SLIVER_SHARE)) return [];
      const details = { first: first.id, second: second.id, overlapM2, sharePercent: 100 * share };
      return [problem('warning', 'stripsOverlap', {}, details)];
    }),
  );
}

function runningAcross(grounds: readonly StripGround[]): Problem[] {
  const [acrossEast, acrossNorth] = commonAcross(grounds.map(({ oriented }) => oriented));
  return grounds.flatMap(({ id, oriented }) => {
    const sine = Math.abs(oriented.alongEast * acrossEast + oriented.alongNorth * acrossNorth);
    const degrees = inDegrees(Math.asin(Math.min(1, sine)));
    return degrees > ALIKE_DEGREES ? [problem('warning', 'stripRunsAcross', {}, { strip: id, degrees })] : [];
  });
}

/** Names the strip farthest from the first; a whole field apart cannot be one trial. */
function farApart(grounds: readonly StripGround[], frame: LocalFrame): Problem[] {
  const projection = localProjection(frame);
  const places = grounds.map(({ id, centroid }) => ({ id, at: projection.toGeographic(...centroid) }));
  const first = places[0];
  if (first === undefined) return [];
  const away = places.map(({ id, at }) => ({ id, km: greatCircleKm(...first.at, ...at) }));
  const farthest = away.reduce((most, next) => (next.km > most.km ? next : most));
  if (farthest.km <= ONE_FIELD_KM) return [];
  const details = { strip: farthest.id, distanceKm: farthest.km, limitKm: ONE_FIELD_KM };
  return [problem('warning', 'stripsFarApart', {}, details)];
}
