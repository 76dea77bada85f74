import { type FieldView, toPx } from './field-view.ts';

type Place = readonly [x: number, y: number];

/** Narrower strips have no room for a code beside their points. */
const LEAST_WIDTH_PX = 9;
const AWAY_FROM_END = 0.46;

/**
 * Where a strip's code stands: on its middle line, as near to the middle of the view as the strip goes, so that it
 * stays in sight when one looks closer. null where the strip is too narrow on screen.
 */
export function stripNamePlace(ring: readonly (readonly [number, number])[], view: FieldView): Place | null {
  const corners = ring.slice(0, -1).map(([eastM, northM]) => toPx(view, eastM, northM));
  const [first, second, third] = corners;
  if (first === undefined || second === undefined || third === undefined) return null;
  const middle = middleOf(corners);
  const sides = [between(first, second), between(second, third)] as const;
  const [long, short] = length(sides[0]) > length(sides[1]) ? sides : [sides[1], sides[0]];
  if (length(short) < LEAST_WIDTH_PX) return null;
  const away = between(middle, [view.widthPx / 2, view.heightPx / 2]);
  const along = (away[0] * long[0] + away[1] * long[1]) / length(long) ** 2;
  const share = Math.min(AWAY_FROM_END, Math.max(-AWAY_FROM_END, along));
  return [middle[0] + share * long[0], middle[1] + share * long[1]];
}

function middleOf(corners: readonly Place[]): Place {
  const sum = corners.reduce<Place>(([x, y], [dx, dy]) => [x + dx, y + dy], [0, 0]);
  return [sum[0] / corners.length, sum[1] / corners.length];
}

function between(from: Place, to: Place): Place {
  return [to[0] - from[0], to[1] - from[1]];
}

function length([x, y]: Place): number {
  return Math.hypot(x, y);
}
