import { readFileSync } from 'node:fs';
import booleanPointInPolygon from '@turf/boolean-point-in-polygon';
import Papa from 'papaparse';

/**
 * The yardstick as most would write it: rows as objects with numbers told from texts, points as GeoJSON, and for each
 * strip a filter over all points. The leanest form of the same is in papaparse-and-turf.ts.
 */
interface Strip {
  type: 'Feature';
  properties: null;
  geometry: { type: 'Polygon'; coordinates: number[][][] };
}

const [layoutFile = '', harvestFile = ''] = process.argv.slice(2);
const { features } = JSON.parse(readFileSync(layoutFile, 'utf8')) as { features: Strip[] };
// The project's own types of papaparse know only what the app uses of it.
const parse = Papa.parse as unknown as (text: string, settings: object) => { data: Record<string, number>[] };
const { data } = parse(readFileSync(harvestFile, 'utf8'), {
  header: true,
  dynamicTyping: true,
  skipEmptyLines: true,
});
const points = data.map((row) => ({
  type: 'Feature' as const,
  properties: row,
  geometry: { type: 'Point' as const, coordinates: [row['Longitude (deg)']!, row['Latitude (deg)']!] },
}));
const means = features.map((strip) => {
  const inside = points.filter((point) => booleanPointInPolygon(point, strip));
  return inside.reduce((sum, { properties }) => sum + properties['Yield wet (t/ha)']!, 0) / inside.length;
});
console.log(JSON.stringify(means));
