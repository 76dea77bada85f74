import { failure, type Outcome, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';
import type { FeatureCollection } from './shapefile-features.ts';
import { reasonOf } from './unpack-zip.ts';
import { withUnitsOfParameters } from './well-known-text.ts';

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
  const isPlain = /^\s*GEOG/i.test(wellKnownText);
  const read =
    isPlain && !isInDegrees(wellKnownText)
      ? NOT_IN_DEGREES
      : await readingBy(withUnitsOfParameters(wellKnownText));
  if (typeof read === 'string') {
    return failure(intakeProblem('projectionNotRead', { file }, { name, reason: read }));
  }
  const turned = features.map((feature) => withCoordinates(feature, read.toDegrees));
  const problems = isPlain ? [] : [intakeProblem('readInProjection', { file }, { name })];
  if (!read.isOnWgs84) problems.push(intakeProblem('datumNotKnown', { file }, { name }));
  return success({ type: 'FeatureCollection', features: turned }, problems);
}

const NOT_IN_DEGREES = 'its angles are not in degrees';
const DEGREE = Math.PI / 180;

/** A geographic system names one unit, which proj4 takes for degrees whatever it is. */
function isInDegrees(wellKnownText: string): boolean {
  const units = [...wellKnownText.matchAll(/\b(?:ANGLE)?UNIT\s*\[\s*"[^"]*"\s*,\s*([\d.eE+-]+)/gi)];
  return units.every(([, radians]) => Math.abs(Number(radians) - DEGREE) < 1e-9);
}

interface Reading {
  readonly toDegrees: ToDegrees;
  /** The way from its datum to WGS 84 is known, or there is none to speak of. */
  readonly isOnWgs84: boolean;
}

/** A reading, or why there is none. */
async function readingBy(wellKnownText: string): Promise<Reading | string> {
  const { default: proj4 } = await import('proj4');
  try {
    const { forward } = proj4(wellKnownText, 'WGS84');
    const probe = forward([1, 1]);
    if (!Array.isArray(probe)) return 'it turns no position';
    const toDegrees: ToDegrees = ([x, y]) => {
      const [longitude, latitude] = forward([x, y]) as number[];
      return [longitude ?? Number.NaN, latitude ?? Number.NaN];
    };
    return { toDegrees, isOnWgs84: isOnWgs84(new proj4.Proj(wellKnownText)) };
  } catch (error) {
    return reasonOf(error);
  }
}

/** proj4's mark of a datum of which it knows no shift, and then makes none. */
const NO_DATUM = 5;
/** Half axes of WGS 84 and GRS 80 in metres, which agree within a millimetre. */
const [WGS84_A, WGS84_B] = [6_378_137, 6_356_752.314];

/** Datums of this century lie on these ellipsoids and within some two metres of WGS 84; those on others hundreds off. */
function isOnWgs84({ datum, a, b }: Ellipsoid): boolean {
  const isLike = Math.abs(a - WGS84_A) < 0.5 && Math.abs(b - WGS84_B) < 0.5;
  return isLike || (datum !== undefined && datum.datum_type !== NO_DATUM);
}

interface Ellipsoid {
  readonly datum?: { readonly datum_type: number };
  readonly a: number;
  readonly b: number;
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
