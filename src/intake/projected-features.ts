import { failure, type Outcome, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';
import type { FeatureCollection } from './shapefile-features.ts';
import { reasonOf } from './unpack-zip.ts';

type Position = readonly [number, number];
type ToDegrees = (at: Position) => Position;

/**
 * Features with their coordinates turned to longitude and latitude of WGS 84 by the well-known text of a .prj file.
 * Without one, coordinates within ±180 and ±90 are taken for degrees (said), others are refused.
 */
export async function projectFeatures(
  features: readonly unknown[],
  wellKnownText: string | null,
  file: string,
): Promise<Outcome<FeatureCollection>> {
  if (wellKnownText === null) return withoutProjection(features, file);
  const name = /^\s*\w+\s*\[\s*"([^"]{0,120})/.exec(wellKnownText)?.[1] ?? 'unnamed';
  const toDegrees = await degreesBy(wellKnownText);
  if (typeof toDegrees === 'string') {
    return failure(intakeProblem('projectionNotRead', { file }, { name, reason: toDegrees }));
  }
  const turned = features.map((feature) => withCoordinates(feature, toDegrees));
  const isPlain = /^\s*GEOG/i.test(wellKnownText);
  const problems = isPlain ? [] : [intakeProblem('readInProjection', { file }, { name })];
  return success({ type: 'FeatureCollection', features: turned }, problems);
}

/** A function, or why there is none. */
async function degreesBy(wellKnownText: string): Promise<ToDegrees | string> {
  const { default: proj4 } = await import('proj4');
  try {
    const { forward } = proj4(wellKnownText, 'WGS84');
    const probe = forward([1, 1]);
    if (!Array.isArray(probe)) return 'it turns no position';
    return ([x, y]) => {
      const [longitude, latitude] = forward([x, y]) as number[];
      return [longitude ?? Number.NaN, latitude ?? Number.NaN];
    };
  } catch (error) {
    return reasonOf(error);
  }
}

function withoutProjection(features: readonly unknown[], file: string): Outcome<FeatureCollection> {
  let outside: Position | null = null;
  for (const feature of features) {
    withCoordinates(feature, (at) => {
      if (Math.abs(at[0]) > 180 || Math.abs(at[1]) > 90) outside ??= at;
      return at;
    });
  }
  if (outside !== null) {
    const [x, y] = outside as Position;
    return failure(intakeProblem('projectionMissing', { file }, { x, y }));
  }
  return success({ type: 'FeatureCollection', features }, [intakeProblem('projectionAssumed', { file }, {})]);
}

function withCoordinates(feature: unknown, turn: ToDegrees): unknown {
  const { geometry } = feature as { geometry: { coordinates?: unknown } | null };
  if (geometry === null || geometry.coordinates === undefined) return feature;
  return {
    ...(feature as object),
    geometry: { ...geometry, coordinates: turned(geometry.coordinates, turn) },
  };
}

function turned(coordinates: unknown, turn: ToDegrees): unknown {
  if (!Array.isArray(coordinates)) return coordinates;
  const [x, y] = coordinates;
  if (typeof x === 'number' && typeof y === 'number') {
    return Number.isFinite(x) && Number.isFinite(y) ? turn([x, y]) : [x, y];
  }
  return coordinates.map((inner) => turned(inner, turn));
}
