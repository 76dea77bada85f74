/** A field is never as wide; metres of a local grid that pass for degrees are. */
const WIDEST_DEGREES = 5;

/**
 * Are longitudes counted eastward from 0 to 360, as some programs do west of Greenwich? All of them lie beyond 180 and
 * close together, and every latitude is one. The order of the pairs does not matter.
 */
export function areEastward(positions: Iterable<readonly [longitude: number, latitude: number]>): boolean {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [longitude, latitude] of positions) {
    if (!(longitude > 180 && longitude <= 360 && Math.abs(latitude) <= 90)) return false;
    least = Math.min(least, longitude);
    most = Math.max(most, longitude);
  }
  return most - least <= WIDEST_DEGREES;
}
