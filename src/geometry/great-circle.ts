import { inRadians } from './angle.ts';

/**
 * How far apart are two positions, roughly? Kilometres on a sphere of the earth's mean radius (6371.0088 km), by
 * the haversine formula; within 0.6 % of the ellipsoid, enough to say "these files are not of the same field".
 */
export function greatCircleKm(
  longitudeA: number,
  latitudeA: number,
  longitudeB: number,
  latitudeB: number,
): number {
  const north = Math.sin(inRadians(latitudeB - latitudeA) / 2);
  const east = Math.sin(inRadians(longitudeB - longitudeA) / 2);
  const h = north ** 2 + Math.cos(inRadians(latitudeA)) * Math.cos(inRadians(latitudeB)) * east ** 2;
  return 2 * 6371.0088 * Math.asin(Math.min(1, Math.sqrt(h)));
}
