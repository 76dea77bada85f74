import { ringCrossesItself } from '../geometry/self-crossing.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { StripPolygon } from '../trial/trial-document.ts';
import { areEastward } from './eastward-longitudes.ts';
import { intakeProblem } from './problem-codes.ts';

/** A feature with a sound polygon; `number` counts from 1 in file order. */
export interface LayoutFeature {
  readonly number: number;
  /** The feature's own "id" member (RFC 7946, 3.2) as text; null: none. */
  readonly id: string | null;
  readonly properties: Readonly<Record<string, unknown>>;
  readonly polygon: StripPolygon;
}

type JsonObject = Readonly<Record<string, unknown>>;

/** The polygons of a FeatureCollection or a Feature, their rings closed and their positions checked. */
export function polygonFeatures(json: unknown, file: string): Outcome<readonly LayoutFeature[]> {
  const features = featureList(json);
  if (features === null) {
    const type = isObject(json) && typeof json.type === 'string' ? json.type.slice(0, 60) : null;
    return failure(intakeProblem('notGeoJson', { file }, { type }));
  }
  const foreign = foreignCoordinateSystem(json);
  if (foreign !== null) return failure(intakeProblem('otherCoordinateSystem', { file }, { name: foreign }));
  const problems: Problem[] = [...leftOut(features, file)];
  const found = features.flatMap((feature, index) => layoutFeature(feature, index + 1, file, problems));
  if (found.length === 0 && !problems.some(({ severity }) => severity === 'error')) {
    const details = { features: features.length, types: geometryTypes(features) };
    return failure(intakeProblem('layoutHasNoPolygons', { file }, details));
  }
  const turned = fromEastward(found, file, problems);
  problems.push(...degreeFaults(turned, file));
  const said = oneForAll(problems);
  if (said.some(({ severity }) => severity === 'error')) return failure(...said);
  return success(turned, said);
}

function ofFeature(number: number) {
  return { feature: number, features: [String(number)], count: 1 };
}

/** A fault that many features have is one message, with the numbers of all of them. */
function oneForAll(problems: readonly Problem[]): readonly Problem[] {
  const features = new Map<string, string[]>();
  for (const { code, details } of problems) {
    if (typeof details.feature !== 'number') continue;
    const own = features.get(code) ?? [];
    own.push(String(details.feature));
    features.set(code, own);
  }
  const said = new Set<string>();
  return problems.flatMap((one) => {
    const own = features.get(one.code);
    if (own === undefined) return [one];
    if (said.has(one.code)) return [];
    said.add(one.code);
    return [{ ...one, details: { ...one.details, features: own, count: own.length } }];
  });
}

function featureList(json: unknown): readonly JsonObject[] | null {
  if (!isObject(json)) return null;
  if (json.type === 'Feature') return [json];
  if (json.type !== 'FeatureCollection' || !Array.isArray(json.features)) return null;
  return json.features.map((feature: unknown) => (isObject(feature) ? feature : {}));
}

/** The "crs" member is of the older GeoJSON of 2008; RFC 7946 knows WGS 84 alone. */
export function foreignCoordinateSystem(json: unknown): string | null {
  if (!isObject(json) || json.crs === undefined || json.crs === null) return null;
  const properties = isObject(json.crs) && isObject(json.crs.properties) ? json.crs.properties : {};
  const name = String(properties.name ?? properties.code ?? 'unnamed').slice(0, 120);
  return /(?:^|[:/])CRS84$|(?:^|EPSG[:/](?:[\d.]*[:/])?)4326$/i.test(name) ? null : name;
}

function geometryTypeOf(feature: JsonObject): string {
  return isObject(feature.geometry) && typeof feature.geometry.type === 'string'
    ? feature.geometry.type.slice(0, 40)
    : 'none';
}

function geometryTypes(features: readonly JsonObject[]): string[] {
  return [...new Set(features.map(geometryTypeOf))].slice(0, 10);
}

function isPolygonFeature(feature: JsonObject): boolean {
  return ['Polygon', 'MultiPolygon'].includes(geometryTypeOf(feature));
}

function leftOut(features: readonly JsonObject[], file: string): Problem[] {
  const others = features.filter((feature) => !isPolygonFeature(feature));
  if (others.length === 0 || others.length === features.length) return [];
  const first = features.findIndex((feature) => !isPolygonFeature(feature)) + 1;
  const details = { count: others.length, first, types: geometryTypes(others) };
  return [intakeProblem('featuresNotPolygons', { file }, details)];
}

function layoutFeature(
  feature: JsonObject,
  number: number,
  file: string,
  problems: Problem[],
): LayoutFeature[] {
  if (!isPolygonFeature(feature) || !isObject(feature.geometry)) return [];
  const { type, coordinates } = feature.geometry;
  const parts = type === 'Polygon' ? [coordinates] : coordinates;
  const polygons = soundPolygons(parts, number, file, problems);
  if (polygons === null) return [];
  const { id, properties } = feature;
  return [
    {
      number,
      id: typeof id === 'string' || typeof id === 'number' ? String(id).trim() || null : null,
      properties: isObject(properties) ? properties : {},
      polygon:
        type === 'Polygon'
          ? { type: 'Polygon', coordinates: polygons[0] ?? [] }
          : { type: 'MultiPolygon', coordinates: polygons },
    },
  ];
}

type Position = StripPolygon extends { coordinates: infer _ } ? [number, number, ...number[]] : never;
type Ring = Position[];

function soundPolygons(parts: unknown, number: number, file: string, problems: Problem[]): Ring[][] | null {
  const isList =
    Array.isArray(parts) && parts.length > 0 && parts.every((p) => Array.isArray(p) && p.length > 0);
  if (!isList || !(parts as unknown[][]).flat().every(isRing)) {
    problems.push(intakeProblem('brokenCoordinates', { file }, ofFeature(number)));
    return null;
  }
  const rings = parts as Ring[][];
  const isOpen = rings.flat().some((ring) => !isClosed(ring));
  if (isOpen) problems.push(intakeProblem('ringClosed', { file }, ofFeature(number)));
  const closed = rings.map((polygon) => polygon.map(closeRing));
  const short = closed.flat().find((ring) => distinctPositions(ring) < 3);
  if (short === undefined && !closed.flat().some(crossesItself)) return closed;
  if (short === undefined) {
    problems.push(intakeProblem('ringCrossesItself', { file }, ofFeature(number)));
    return null;
  }
  const details = { ...ofFeature(number), positions: distinctPositions(short) };
  problems.push(intakeProblem('ringTooShort', { file }, details));
  return null;
}

/** Every edge is held against every other; no strip that people draw has as many corners. */
const MOST_CORNERS_COMPARED = 3000;

function crossesItself(ring: Ring): boolean {
  return ring.length <= MOST_CORNERS_COMPARED && ringCrossesItself(ring);
}

function isRing(value: unknown): value is Ring {
  return Array.isArray(value) && value.length > 0 && value.every(isPosition);
}

function isPosition(value: unknown): value is Position {
  return Array.isArray(value) && value.length >= 2 && value.every(Number.isFinite);
}

function isClosed(ring: Ring): boolean {
  const [first, last] = [ring[0], ring.at(-1)];
  return ring.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
}

function closeRing(ring: Ring): Ring {
  const [first] = ring;
  return isClosed(ring) || first === undefined ? ring : [...ring, first];
}

function distinctPositions(ring: Ring): number {
  return new Set(ring.map(([longitude, latitude]) => `${longitude} ${latitude}`)).size;
}

/** Longitudes from 0 to 360 are brought to ±180, which is said. */
function fromEastward(
  features: readonly LayoutFeature[],
  file: string,
  problems: Problem[],
): readonly LayoutFeature[] {
  const positions = features.flatMap(({ polygon }) => positionsOf(polygon));
  const [first] = positions;
  if (first === undefined || !areEastward(positions.map(([x, y]) => [x, y]))) return features;
  const details = { longitude: first[0], readAs: first[0] - 360, count: positions.length };
  problems.push(intakeProblem('longitudesEastward', { file }, details));
  const turn = (rings: readonly (readonly (readonly number[])[])[]) =>
    rings.map((ring) => ring.map(([x, ...rest]) => [x! - 360, ...rest] as Position));
  return features.map((feature) => {
    const { polygon } = feature;
    return {
      ...feature,
      polygon:
        polygon.type === 'Polygon'
          ? { type: 'Polygon', coordinates: turn(polygon.coordinates) }
          : { type: 'MultiPolygon', coordinates: polygon.coordinates.map(turn) },
    };
  });
}

function positionsOf(polygon: StripPolygon): readonly Position[] {
  return polygon.coordinates.flat(polygon.type === 'Polygon' ? 1 : 2) as Position[];
}

/** Reports the first polygon that lies outside degrees, and whether swapping would bring it back. */
function degreeFaults(features: readonly LayoutFeature[], file: string): Problem[] {
  for (const { number, polygon } of features) {
    const outside = positionsOf(polygon).find(([x, y]) => Math.abs(x) > 180 || Math.abs(y) > 90);
    if (outside === undefined) continue;
    const [longitude, latitude] = outside;
    const swapped = Math.abs(latitude) <= 180 && Math.abs(longitude) <= 90;
    const code = swapped ? 'latitudeLongitudeSwapped' : 'notDegrees';
    return [intakeProblem(code, { file, column: `feature ${number}` }, { longitude, latitude })];
  }
  return [];
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
