import { inRadians } from './angle.ts';
import type { LocalPosition } from './local-projection.ts';

/**
 * A move of the plane that keeps lengths and areas: first mirrored in the line through the origin that heads
 * `axisDegrees`, then turned about the origin, then shifted. Metres; degrees run clockwise from north, as headings do.
 */
export interface PlaneMove {
  readonly eastM: number;
  readonly northM: number;
  readonly turnDegrees: number;
  readonly mirrored: boolean;
  readonly axisDegrees: number;
}

export function movedPosition(move: PlaneMove, [eastM, northM]: LocalPosition): LocalPosition {
  const [east, north] = move.mirrored ? mirrored(move.axisDegrees, eastM, northM) : [eastM, northM];
  const cosine = Math.cos(inRadians(move.turnDegrees));
  const sine = Math.sin(inRadians(move.turnDegrees));
  return [east * cosine + north * sine + move.eastM, north * cosine - east * sine + move.northM];
}

/** The move that brings every position back. */
export function inverseMove(move: PlaneMove): PlaneMove {
  // Mirrored, a turn is undone by the same turn: it runs the other way in the mirror.
  const turnDegrees = move.mirrored ? move.turnDegrees : -move.turnDegrees;
  const [eastM, northM] = movedPosition({ ...move, turnDegrees, eastM: 0, northM: 0 }, [
    move.eastM,
    move.northM,
  ]);
  return { ...move, turnDegrees, eastM: -eastM, northM: -northM };
}

function mirrored(axisDegrees: number, eastM: number, northM: number): LocalPosition {
  const cosine = Math.cos(inRadians(2 * axisDegrees));
  const sine = Math.sin(inRadians(2 * axisDegrees));
  return [northM * sine - eastM * cosine, eastM * sine + northM * cosine];
}
