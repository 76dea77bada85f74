import { failure, type Outcome, success } from '../trial/problem.ts';
import type { HarvestFile } from '../trial/trial-document.ts';
import { type DelimitedTable, tableOfCells } from './delimited-table.ts';
import { intakeProblem } from './problem-codes.ts';

type ChosenColumns = HarvestFile['columns'];

/** Headings of the positions that come from the features' own geometry. */
const FEATURE_LONGITUDE = 'Longitude of the feature';
const FEATURE_LATITUDE = 'Latitude of the feature';

/** Positions of features come from their geometry, whatever their properties are called, unless the user chose otherwise. */
export function columnsOfFeatures(
  { headings }: Pick<DelimitedTable, 'headings'>,
  chosen: ChosenColumns,
): ChosenColumns {
  if (!headings.includes(FEATURE_LONGITUDE)) return chosen;
  const positions = {
    longitude: { heading: FEATURE_LONGITUDE, unit: null },
    latitude: { heading: FEATURE_LATITUDE, unit: null },
  };
  return { ...positions, ...chosen };
}

type JsonObject = Readonly<Record<string, unknown>>;

/** The points of GeoJSON or of a shapefile as a table: a row a point, its position first, then its properties. */
export function tableOfPointFeatures(collection: unknown, file: string): Outcome<DelimitedTable> {
  const features = featuresOf(collection);
  const points = features.flatMap((feature) => positionsOf(feature).map((at) => ({ at, feature })));
  if (points.length === 0) {
    const types = [...new Set(features.map(({ geometry }) => String((geometry as JsonObject | null)?.type)))];
    const details = { features: features.length, types: types.slice(0, 10) };
    return failure(intakeProblem('noPointFeatures', { file }, details));
  }
  const names = new Set<string>();
  for (const { feature } of points) for (const name of Object.keys(propertiesOf(feature))) names.add(name);
  const headings = [...names];
  const rows = points.map(({ at, feature }) => {
    const properties = propertiesOf(feature);
    return [String(at[0]), String(at[1]), ...headings.map((name) => cellText(properties[name]))];
  });
  const others = features.filter((feature) => positionsOf(feature).length === 0).length;
  const remarks = others === 0 ? [] : [intakeProblem('featuresNotPoints', { file }, { count: others })];
  const table = tableOfCells([FEATURE_LONGITUDE, FEATURE_LATITUDE, ...headings], rows, file);
  return table.ok ? success(table.value, [...remarks, ...table.problems]) : table;
}

function featuresOf(collection: unknown): readonly JsonObject[] {
  if (!isObject(collection)) return [];
  if (collection.type === 'Feature') return [collection];
  return Array.isArray(collection.features) ? collection.features.filter(isObject) : [];
}

function positionsOf({ geometry }: JsonObject): readonly (readonly [number, number])[] {
  if (!isObject(geometry)) return [];
  const { type, coordinates } = geometry;
  const all = type === 'Point' ? [coordinates] : type === 'MultiPoint' ? coordinates : [];
  if (!Array.isArray(all)) return [];
  return all.flatMap((at) => {
    const [x, y] = Array.isArray(at) ? at : [];
    return typeof x === 'number' && typeof y === 'number' ? [[x, y] as const] : [];
  });
}

function propertiesOf({ properties }: JsonObject): JsonObject {
  return isObject(properties) ? properties : {};
}

/** As it would stand in a table of text; lists and objects are left blank. */
export function cellText(value: unknown): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  if (typeof value === 'boolean') return String(value);
  return value instanceof Date ? dateText(value) : '';
}

/** A date without a clock, in the reader's own time zone: the .dbf knows no other. */
function dateText(date: Date): string {
  if (Number.isNaN(date.getTime())) return '';
  const two = (number: number) => String(number).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
