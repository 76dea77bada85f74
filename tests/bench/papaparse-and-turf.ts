import { readFileSync } from 'node:fs';
import booleanPointInPolygon from '@turf/boolean-point-in-polygon';
import Papa from 'papaparse';

/**
 * The plainest way to strip values, as a yardstick: the whole file by papaparse, each point by turf into the first
 * polygon that holds it, a mean of yields a polygon. No units, screens, lag, passes, footprints or moisture.
 */
interface Polygon {
  type: 'Polygon';
  coordinates: number[][][];
}

const [layoutFile = '', harvestFile = ''] = process.argv.slice(2);
const layout = JSON.parse(readFileSync(layoutFile, 'utf8')) as { features: { geometry: Polygon }[] };
const polygons = layout.features.map(({ geometry }) => geometry);
const { data } = Papa.parse(readFileSync(harvestFile, 'utf8'), { delimiter: ',', newline: '\n' });

const sums = polygons.map(() => ({ points: 0, total: 0 }));
for (const row of data.slice(1)) {
  const place = [Number(row[1]), Number(row[2])];
  const sum = sums[polygons.findIndex((polygon) => booleanPointInPolygon(place, polygon))];
  if (sum === undefined) continue;
  sum.points += 1;
  sum.total += Number(row[7]);
}
console.log(JSON.stringify(sums.map(({ points, total }) => total / points)));
