import type { LocalPosition, LocalProjection } from './local-projection.ts';

/**
 * A polygon or multipolygon in local metres: parts, each a list of rings, the first its outline and the rest its
 * holes. A ring is x0, y0, x1, y1, ... without the closing repetition; its turning sense does not matter.
 */
export type LocalRing = Float64Array;
export type LocalPolygon = readonly (readonly LocalRing[])[];

/** A GeoJSON geometry of RFC 7946, as far as it is needed here. */
export type GeographicPolygon =
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly (readonly number[])[])[] }
  | {
      readonly type: 'MultiPolygon';
      readonly coordinates: readonly (readonly (readonly (readonly number[])[])[])[];
    };

export function toLocalPolygon(polygon: GeographicPolygon, projection: LocalProjection): LocalPolygon {
  const parts = polygon.type === 'Polygon' ? [polygon.coordinates] : polygon.coordinates;
  return parts.map((rings) => rings.map((ring) => toLocalRing(ring, projection)));
}

function toLocalRing(ring: readonly (readonly number[])[], projection: LocalProjection): LocalRing {
  const first = ring[0];
  const last = ring.at(-1);
  const isClosed = ring.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
  const count = isClosed ? ring.length - 1 : ring.length;
  const local = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const position = ring[i]!;
    const [eastM, northM] = projection.toLocal(position[0]!, position[1]!);
    local[2 * i] = eastM;
    local[2 * i + 1] = northM;
  }
  return local;
}

export function localPolygon(corners: readonly LocalPosition[]): LocalPolygon {
  return [[Float64Array.from(corners.flat())]];
}

/** Twice the signed area and the moments of a ring, taken about its first corner to keep the digits. */
function ringMoments(ring: LocalRing): { areaM2: number; eastM: number; northM: number } {
  const x0 = ring[0] ?? 0;
  const y0 = ring[1] ?? 0;
  let doubled = 0;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    const ax = ring[i]! - x0;
    const ay = ring[i + 1]! - y0;
    const bx = ring[j]! - x0;
    const by = ring[j + 1]! - y0;
    const cross = ax * by - bx * ay;
    doubled += cross;
    mx += (ax + bx) * cross;
    my += (ay + by) * cross;
  }
  const sign = doubled < 0 ? -1 : 1;
  return {
    areaM2: (sign * doubled) / 2,
    eastM: (sign * (mx + 3 * x0 * doubled)) / 6,
    northM: (sign * (my + 3 * y0 * doubled)) / 6,
  };
}

function moments(polygon: LocalPolygon): { areaM2: number; eastM: number; northM: number } {
  const total = { areaM2: 0, eastM: 0, northM: 0 };
  for (const part of polygon) {
    part.forEach((ring, index) => {
      const sign = index === 0 ? 1 : -1;
      const ringTotal = ringMoments(ring);
      total.areaM2 += sign * ringTotal.areaM2;
      total.eastM += sign * ringTotal.eastM;
      total.northM += sign * ringTotal.northM;
    });
  }
  return total;
}

/** Area in m², holes taken off. */
export function polygonAreaM2(polygon: LocalPolygon): number {
  return moments(polygon).areaM2;
}

/** Centre of gravity; for a polygon without area the mean of its corners. */
export function polygonCentroid(polygon: LocalPolygon): LocalPosition {
  const { areaM2, eastM, northM } = moments(polygon);
  if (areaM2 > 0) return [eastM / areaM2, northM / areaM2];
  const corners = polygon.flatMap((part) => [...(part[0] ?? [])]);
  const mean = (offset: number) =>
    corners.filter((_, i) => i % 2 === offset).reduce((sum, x) => sum + x, 0) / (corners.length / 2);
  return [mean(0), mean(1)];
}

/**
 * Does the polygon hold the point? Half-open, so that polygons which share an edge, corner for corner, divide the
 * plane without overlap or gap: a point on an edge belongs to the polygon that lies east of that edge, on an edge
 * running exactly east-west to the polygon north of it. Even-odd over all rings, so holes are outside.
 */
export function polygonContains(polygon: LocalPolygon, eastM: number, northM: number): boolean {
  let inside = false;
  for (const part of polygon) {
    for (const ring of part) {
      if (crossesOddly(ring, eastM, northM)) inside = !inside;
    }
  }
  return inside;
}

function crossesOddly(ring: LocalRing, eastM: number, northM: number): boolean {
  let odd = false;
  let i = ring.length - 2;
  for (let j = 0; j < ring.length; i = j, j += 2) {
    const above = ring[i + 1]! > northM;
    if (above === ring[j + 1]! > northM) continue;
    // Taken from the lower end whichever way the ring runs: both owners of an edge compute the same crossing.
    const low = above ? j : i;
    const high = above ? i : j;
    const share = (northM - ring[low + 1]!) / (ring[high + 1]! - ring[low + 1]!);
    if (eastM < ring[low]! + share * (ring[high]! - ring[low]!)) odd = !odd;
  }
  return odd;
}

export interface LocalBox {
  readonly minEastM: number;
  readonly minNorthM: number;
  readonly maxEastM: number;
  readonly maxNorthM: number;
}

export function polygonBox(polygon: LocalPolygon): LocalBox {
  let [minEastM, minNorthM] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [maxEastM, maxNorthM] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const ring of polygon.flat()) {
    for (let i = 0; i < ring.length; i += 2) {
      minEastM = Math.min(minEastM, ring[i]!);
      maxEastM = Math.max(maxEastM, ring[i]!);
      minNorthM = Math.min(minNorthM, ring[i + 1]!);
      maxNorthM = Math.max(maxNorthM, ring[i + 1]!);
    }
  }
  return { minEastM, minNorthM, maxEastM, maxNorthM };
}
