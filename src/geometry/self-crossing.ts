type Position = readonly number[];

/**
 * Does a ring meet itself: do two of its edges that are no neighbours cross or touch? Such a ring has no clear inside.
 * The first corner may stand again at the end; corners that repeat the one before count once. Positions may be degrees
 * or metres.
 */
export function ringCrossesItself(ring: readonly Position[]): boolean {
  const corners = withoutRepeats(ring);
  const count = corners.length;
  for (let i = 0; i < count; i++)
    for (let j = i + 2; j < count; j++) {
      if (i === 0 && j === count - 1) continue;
      if (meet(corners[i]!, corners[i + 1]!, corners[j]!, corners[(j + 1) % count]!)) return true;
    }
  return false;
}

/** The same of any ring of a polygon, or of several. */
export function polygonCrossesItself(polygon: {
  readonly type: 'Polygon' | 'MultiPolygon';
  readonly coordinates: readonly unknown[];
}): boolean {
  const rings = polygon.type === 'Polygon' ? polygon.coordinates : polygon.coordinates.flat();
  return (rings as readonly (readonly Position[])[]).some(ringCrossesItself);
}

function withoutRepeats(ring: readonly Position[]): Position[] {
  const isSame = (a: Position, b: Position) => a[0] === b[0] && a[1] === b[1];
  const corners = ring.filter((corner, i) => i === 0 || !isSame(corner, ring[i - 1]!));
  if (corners.length > 1 && isSame(corners[0]!, corners.at(-1)!)) corners.pop();
  return corners;
}

function meet(a: Position, b: Position, c: Position, d: Position): boolean {
  const [c1, c2, a1, a2] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (c1 * c2 < 0 && a1 * a2 < 0) return true;
  return (
    (c1 === 0 && isWithin(a, b, c)) ||
    (c2 === 0 && isWithin(a, b, d)) ||
    (a1 === 0 && isWithin(c, d, a)) ||
    (a2 === 0 && isWithin(c, d, b))
  );
}

/** 1: the point lies to the left of the way from `from` to `to`, -1: to the right, 0: on its line. */
function side(from: Position, to: Position, point: Position): number {
  return Math.sign(
    (to[0]! - from[0]!) * (point[1]! - from[1]!) - (to[1]! - from[1]!) * (point[0]! - from[0]!),
  );
}

/** Of a point on the line: does it lie between the two? */
function isWithin(from: Position, to: Position, point: Position): boolean {
  return [0, 1].every(
    (axis) =>
      point[axis]! >= Math.min(from[axis]!, to[axis]!) && point[axis]! <= Math.max(from[axis]!, to[axis]!),
  );
}
