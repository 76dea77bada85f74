import type { LocalPosition } from './local-projection.ts';
import type { OrientedStrip } from './oriented-strip.ts';

/**
 * In which order do strips lie across the field? Places 1, 2, ... counted from the west (from the south where the
 * strips run exactly east-west), by the centres' distance along the direction that all strips have across them.
 * Strips whose centres lie less than half a strip's width apart that way (two strips end to end) share a place.
 */
export function placesAcross(
  strips: readonly { readonly centroid: LocalPosition; readonly oriented: OrientedStrip }[],
): readonly number[] {
  if (strips.length === 0) return [];
  const [acrossEast, acrossNorth] = commonAcross(strips.map(({ oriented }) => oriented));
  const offsets = strips.map(({ centroid }) => centroid[0] * acrossEast + centroid[1] * acrossNorth);
  const widths = strips.map(({ oriented }) => oriented.widthM).sort((a, b) => a - b);
  const closeM = widths[Math.floor((widths.length - 1) / 2)]! / 2;
  const order = offsets.map((_, index) => index).sort((a, b) => offsets[a]! - offsets[b]! || a - b);
  const places = new Array<number>(strips.length).fill(0);
  let place = 0;
  let anchor = Number.NEGATIVE_INFINITY;
  for (const index of order) {
    if (offsets[index]! - anchor >= closeM) {
      place += 1;
      anchor = offsets[index]!;
    }
    places[index] = place;
  }
  return places;
}

/** Mean axis, weighted by length, of undirected axes by doubling their angles (Mardia & Jupp 2000, Directional Statistics, 9.3); its right. */
export function commonAcross(strips: readonly OrientedStrip[]): LocalPosition {
  let cosine = 0;
  let sine = 0;
  for (const { alongEast, alongNorth, lengthM } of strips) {
    cosine += lengthM * (alongNorth ** 2 - alongEast ** 2);
    sine += lengthM * 2 * alongNorth * alongEast;
  }
  const axis = Math.atan2(sine, cosine) / 2;
  const across: LocalPosition = [Math.cos(axis), -Math.sin(axis)];
  return across[0] < -1e-12 || (Math.abs(across[0]) <= 1e-12 && across[1] < 0)
    ? [-across[0], -across[1]]
    : across;
}
