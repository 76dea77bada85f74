import { readFileSync } from 'node:fs';
import Papa from 'papaparse';

/**
 * The plainest way to strip values, as a yardstick: the whole file by papaparse, each point by ray casting into the
 * first polygon that holds it, a mean of yields a polygon. No units, screens, lag, passes, footprints or moisture.
 */
type Ring = readonly (readonly [number, number])[];

const [layoutFile = '', harvestFile = ''] = process.argv.slice(2);
const layout = JSON.parse(readFileSync(layoutFile, 'utf8')) as {
  features: { geometry: { coordinates: Ring[] } }[];
};
const rings = layout.features.map(({ geometry }) => geometry.coordinates[0] ?? []);
const { data } = Papa.parse(readFileSync(harvestFile, 'utf8'), { delimiter: ',', newline: '\n' });

const sums = rings.map(() => ({ points: 0, total: 0 }));
for (const row of data.slice(1)) {
  const [longitude, latitude, value] = [Number(row[1]), Number(row[2]), Number(row[7])];
  const sum = sums[rings.findIndex((ring) => holds(ring, longitude, latitude))];
  if (sum === undefined) continue;
  sum.points += 1;
  sum.total += value;
}
console.log(JSON.stringify(sums.map(({ points, total }) => total / points)));

function holds(ring: Ring, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}
