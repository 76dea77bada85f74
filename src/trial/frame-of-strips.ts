import type { LocalFrame } from '../geometry/local-projection.ts';
import type { Strip } from './trial-document.ts';

/**
 * The trial's own plane: its origin is the middle of all strip corners, on whichever side of the 180th meridian
 * they lie. null where no strip has a polygon.
 */
export function frameOfStrips(strips: readonly Strip[]): LocalFrame | null {
  const all = corners(strips);
  const first = all[0];
  if (first === undefined) return null;
  let [west, east] = [first[0], first[0]];
  let [south, north] = [first[1], first[1]];
  for (const [longitude, latitude] of all) {
    const nearFirst = longitude - 360 * Math.round((longitude - first[0]) / 360);
    west = Math.min(west, nearFirst);
    east = Math.max(east, nearFirst);
    south = Math.min(south, latitude);
    north = Math.max(north, latitude);
  }
  return { originLongitude: (west + east) / 2, originLatitude: (south + north) / 2 };
}

function corners(strips: readonly Strip[]): (readonly [number, number])[] {
  return strips.flatMap(({ polygon }) => {
    if (polygon === null) return [];
    const parts = polygon.type === 'Polygon' ? [polygon.coordinates] : polygon.coordinates;
    return parts.flatMap((rings) => rings.flat().map(([lon, lat]) => [lon, lat] as const));
  });
}
