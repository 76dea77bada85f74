import { convexCorners } from '../geometry/footprint.ts';
import type { Corner } from '../geometry/overlap.ts';
import { stripCore } from '../geometry/strip-core.ts';
import type { HarvestSettings } from '../trial/trial-document.ts';
import { type StripGround, sideMarginOf } from './strip-ground.ts';

/** The sides of a strip drawn in; a strip that is not convex keeps its own. Never so far that less than half is left. */
export function sidesOf(
  ground: StripGround,
  settings: HarvestSettings,
): readonly (readonly [Corner, Corner])[] {
  const marginM = Math.min(sideMarginOf(ground, settings, settings.headerWidthM), ground.oriented.widthM / 4);
  const core = stripCore(ground.polygon, ground.oriented, marginM);
  return core.kind === 'betweenSides' ? core.sides : [];
}

/** Two lines across the strip, each end edge moved in along the axis; a strip that is not convex is cut square. */
export function endsOf(
  { polygon, oriented }: StripGround,
  marginM: number,
): readonly (readonly [Corner, Corner])[] {
  const { alongEast, alongNorth, centreEastM, centreNorthM, lengthM } = oriented;
  const reachM = Math.max(0, lengthM / 2 - marginM);
  const place = (along: number, across: number): Corner => [
    centreEastM + along * alongEast + across * alongNorth,
    centreNorthM + along * alongNorth - across * alongEast,
  ];
  const square = [
    [place(-reachM, -1), place(-reachM, 1)],
    [place(reachM, 1), place(reachM, -1)],
  ] as const;
  const corners = convexCorners(polygon);
  if (corners === null) return square;
  const edges = corners.flatMap((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    const east = to[0] - from[0];
    const north = to[1] - from[1];
    const across = east * alongNorth - north * alongEast;
    if (Math.abs(across) <= Math.abs(east * alongEast + north * alongNorth)) return [];
    // Counter-clockwise, the edge at the axis' beginning runs to the right, the one at its end to the left.
    const byM = across > 0 ? marginM : -marginM;
    const moved = ([x, y]: Corner): Corner => [x + byM * alongEast, y + byM * alongNorth];
    return [[moved(from), moved(to)] as const];
  });
  return edges;
}
