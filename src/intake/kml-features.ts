/// <reference path="./file-readers.d.ts" />
import type { KmlFolder } from '@tmcw/togeojson';
import { failure, type Outcome, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';
import { reasonOf } from './unpack-zip.ts';

const LONGEST_TEXT = 60e6;
/** How a placemark is drawn, which says nothing about the trial. */
const STYLE =
  /^(?:styleUrl|styleHash|styleMapHash|stroke|stroke-\w+|fill|fill-\w+|icon|icon-.+|label-.+|visibility|@geometry-type)$/;

type JsonObject = Readonly<Record<string, unknown>>;

/**
 * The placemarks of a KML text as a GeoJSON FeatureCollection (longitude and latitude of WGS 84 by the standard),
 * their extended data and name as properties, the folder that they lie in as `folder`; several polygons of one placemark as a MultiPolygon.
 */
export async function kmlFeatures(text: string, file: string): Promise<Outcome<JsonObject>> {
  if (text.length > LONGEST_TEXT) {
    const details = { megabytes: Math.round(text.length / 1e6), limit: LONGEST_TEXT / 1e6 };
    return failure(intakeProblem('fileTooLarge', { file }, details));
  }
  const [{ DOMParser }, { kmlWithFolders }] = await Promise.all([
    import('@xmldom/xmldom'),
    import('@tmcw/togeojson'),
  ]);
  try {
    const document = new DOMParser({
      onError: (level, message) => {
        if (level !== 'warning') throw new Error(message);
      },
    }).parseFromString(text.replace(/^\uFEFF?\s*/, ''), 'text/xml');
    const features = featuresIn(kmlWithFolders(document), null);
    return success({ type: 'FeatureCollection', features });
  } catch (error) {
    return failure(intakeProblem('notKml', { file }, { reason: reasonOf(error) }));
  }
}

function featuresIn({ children, meta }: KmlFolder, above: string | null): JsonObject[] {
  const name = typeof meta?.name === 'string' ? meta.name.trim() : '';
  const folder = name === '' ? above : name;
  return children.flatMap((child) => {
    if ('children' in child) return featuresIn(child, folder);
    const feature = plainFeature(child as unknown as JsonObject);
    const own = feature.properties as JsonObject;
    return [folder === null ? feature : { ...feature, properties: { ...own, folder: own.folder ?? folder } }];
  });
}

function plainFeature(feature: JsonObject): JsonObject {
  const properties = Object.entries((feature.properties ?? {}) as JsonObject).filter(
    ([name]) => !STYLE.test(name),
  );
  const { geometry } = feature as { geometry?: JsonObject | null };
  return {
    type: 'Feature',
    ...(feature.id === undefined ? {} : { id: feature.id }),
    properties: Object.fromEntries(properties),
    geometry: geometry?.type === 'GeometryCollection' ? polygonsOf(geometry) : (geometry ?? null),
  };
}

/** Points and lines that mark a polygon's label or middle are left out where there are polygons. */
function polygonsOf(collection: JsonObject): JsonObject {
  const parts = Array.isArray(collection.geometries) ? (collection.geometries as JsonObject[]) : [];
  const polygons = parts.flatMap(({ type, coordinates }) =>
    type === 'Polygon' ? [coordinates] : type === 'MultiPolygon' ? (coordinates as unknown[]) : [],
  );
  if (polygons.length === 0) return collection;
  return polygons.length === 1
    ? { type: 'Polygon', coordinates: polygons[0] }
    : { type: 'MultiPolygon', coordinates: polygons };
}
