import * as v from 'valibot';
import type { LocalPosition, LocalProjection } from '../geometry/local-projection.ts';

const finite = v.pipe(v.number(), v.finite());

/**
 * A place where a harvest pass that runs through several strips is cut. It stands on the ground, since passes are
 * numbered anew with each cut. `every`: all passes are cut as far along the field; else the one that lies nearest.
 */
export const passCutSchema = v.object({
  longitude: v.pipe(finite, v.minValue(-180), v.maxValue(180)),
  latitude: v.pipe(finite, v.minValue(-90), v.maxValue(90)),
  every: v.boolean(),
});

export type PassCut = v.InferOutput<typeof passCutSchema>;

/** A pass before any cut, in metres along the way that the passes run, and across. */
export interface WholePass {
  readonly fromM: number;
  readonly toM: number;
  readonly acrossM: number;
}

export interface PlacedCut {
  readonly alongM: number;
  readonly acrossM: number;
  readonly every: boolean;
}

/** No cut leaves a shorter piece. */
export const SHORTEST_PIECE_M = 30;
/** A place farther than this from the middle of every pass is on none. */
const NEAREST_M = 15;

/** Along and across of positions in a frame whose passes run `along`. */
export function placedCuts(
  cuts: readonly PassCut[],
  { toLocal }: Pick<LocalProjection, 'toLocal'>,
  [alongEast, alongNorth]: LocalPosition,
): readonly PlacedCut[] {
  return cuts.map(({ longitude, latitude, every }) => {
    const [east, north] = toLocal(longitude, latitude);
    return {
      alongM: east * alongEast + north * alongNorth,
      acrossM: east * alongNorth - north * alongEast,
      every,
    };
  });
}

/** How far along each pass is cut, the lower end first. Nothing hangs on the order of the cuts. */
export function cutPlaces(
  passes: readonly WholePass[],
  cuts: readonly PlacedCut[],
): readonly (readonly number[])[] {
  const nearest = cuts.map((cut) => (cut.every ? null : nearestPass(passes, cut)));
  return passes.map((pass, k) => {
    const wanted = cuts.flatMap(({ alongM, every }, c) => (every || nearest[c] === k ? [alongM] : []));
    const places: number[] = [];
    for (const place of wanted.sort((a, b) => a - b)) {
      const last = places.at(-1) ?? pass.fromM;
      if (place - last >= SHORTEST_PIECE_M && pass.toM - place >= SHORTEST_PIECE_M) places.push(place);
    }
    return places;
  });
}

function nearestPass(passes: readonly WholePass[], { alongM, acrossM }: PlacedCut): number | null {
  let [nearest, least]: [number | null, number] = [null, NEAREST_M];
  passes.forEach((pass, k) => {
    const isBeside = alongM >= pass.fromM && alongM <= pass.toM;
    const apart = Math.abs(pass.acrossM - acrossM);
    if (isBeside && apart < least) [nearest, least] = [k, apart];
  });
  return nearest;
}

/**
 * Which numbers do passes have now that had others before? One list for each number before (from 1), of all pieces
 * that lie on its ground.
 */
export function numbersAfter(
  passes: readonly WholePass[],
  before: readonly (readonly number[])[],
  now: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  let number = 0;
  return passes.flatMap((pass, k) => {
    const pieces = piecesOf(pass, now[k]!).map((piece) => {
      number += 1;
      return { ...piece, number };
    });
    return piecesOf(pass, before[k]!).map((old) =>
      pieces.flatMap((piece) => (holdsMiddle(old, piece) || holdsMiddle(piece, old) ? [piece.number] : [])),
    );
  });
}

/** The pieces as they are numbered, number 1 first. */
export function numberedPieces(
  passes: readonly WholePass[],
  places: readonly (readonly number[])[],
): readonly WholePass[] {
  return passes.flatMap((pass, k) =>
    piecesOf(pass, places[k]!).map((piece) => ({ ...piece, acrossM: pass.acrossM })),
  );
}

interface Piece {
  readonly fromM: number;
  readonly toM: number;
}

function piecesOf({ fromM, toM }: WholePass, places: readonly number[]): readonly Piece[] {
  const ends = [fromM, ...places, toM];
  return ends.slice(1).map((end, i) => ({ fromM: ends[i]!, toM: end }));
}

function holdsMiddle({ fromM, toM }: Piece, other: Piece): boolean {
  const middle = (other.fromM + other.toM) / 2;
  return middle >= fromM && middle <= toM;
}

/** Lists of passes by the new numbers; a piece that two lists would have is in neither. */
export function renumberedLists(
  lists: readonly (readonly number[])[],
  becomes: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const renumbered = lists.map((list) => [...new Set(list.flatMap((number) => becomes[number - 1] ?? []))]);
  const owners = new Map<number, number>();
  for (const number of renumbered.flat()) owners.set(number, (owners.get(number) ?? 0) + 1);
  return renumbered.map((list) => list.filter((number) => owners.get(number) === 1).sort((a, b) => a - b));
}
