import { type GeographicPolygon, polygonCentroid, toLocalPolygon } from '../geometry/local-polygon.ts';
import { localProjection } from '../geometry/local-projection.ts';

interface Outlined {
  readonly id: string;
  /** null: not drawn; absent, in older stamps: nothing is known of it. */
  readonly polygon?: GeographicPolygon | null | undefined;
}

/** Corners that lie so near in degrees (1 cm) are the same, written with other digits. */
const SAME_DEGREES = 1e-7;
const MOST_NAMED = 8;

/**
 * What became of the strips' outlines, in one clause: how many lie otherwise and how far, which were drawn and which are no
 * longer. null where none did. Strips that came or went are told elsewhere.
 */
export function movedOutlines(before: readonly Outlined[], now: readonly Outlined[]): string | null {
  const known = new Map(before.map((strip) => [strip.id, strip.polygon]));
  const pairs = now.flatMap(({ id, polygon = null }) => {
    const was = known.get(id);
    return was === undefined ? [] : [{ id, was, is: polygon }];
  });
  const drawn = pairs.filter(({ was, is }) => was === null && is !== null).map(({ id }) => id);
  const gone = pairs.filter(({ was, is }) => was !== null && is === null).map(({ id }) => id);
  const moved = pairs.flatMap(({ id, was, is }) =>
    was === null || is === null || isSame(was, is) ? [] : [{ id, byM: distanceM(was, is) }],
  );
  const said = [
    ...(moved.length === 0 ? [] : [movedWords(moved, now.length)]),
    ...(drawn.length === 0 ? [] : [`drawn: ${named(drawn)}`]),
    ...(gone.length === 0 ? [] : [`no longer drawn: ${named(gone)}`]),
  ];
  return said.length === 0 ? null : said.join('; ');
}

function movedWords(moved: readonly { readonly id: string; readonly byM: number }[], of: number): string {
  const most = Math.max(...moved.map(({ byM }) => byM));
  const far = most < 0.1 ? 'with other corners' : `by up to ${most.toFixed(1)} m`;
  return `${moved.length} of ${of} strips lie otherwise, ${far}: ${named(moved.map(({ id }) => id))}`;
}

function named(ids: readonly string[]): string {
  const shown = ids.slice(0, MOST_NAMED).join(', ');
  return ids.length > MOST_NAMED ? `${shown} and ${ids.length - MOST_NAMED} more` : shown;
}

/** Ring by ring and corner by corner; a ring that begins elsewhere counts as another outline. */
function isSame(a: GeographicPolygon, b: GeographicPolygon): boolean {
  const [ringsA, ringsB] = [ringsOf(a), ringsOf(b)];
  if (ringsA.length !== ringsB.length) return false;
  return ringsA.every((ring, r) => {
    const other = ringsB[r]!;
    return ring.length === other.length && ring.every((corner, k) => isNear(corner, other[k]!));
  });
}

function isNear(a: readonly number[], b: readonly number[]): boolean {
  return [0, 1].every((axis) => Math.abs((a[axis] ?? 0) - (b[axis] ?? 0)) <= SAME_DEGREES);
}

function ringsOf(polygon: GeographicPolygon): readonly (readonly (readonly number[])[])[] {
  return polygon.type === 'Polygon' ? polygon.coordinates : polygon.coordinates.flat();
}

/** Between the middles of the outlines. */
function distanceM(a: GeographicPolygon, b: GeographicPolygon): number {
  const [originLongitude = 0, originLatitude = 0] = ringsOf(a)[0]?.[0] ?? [];
  const projection = localProjection({ originLongitude, originLatitude });
  const [from, to] = [a, b].map((polygon) => polygonCentroid(toLocalPolygon(polygon, projection)));
  return Math.hypot(to![0] - from![0], to![1] - from![1]);
}
