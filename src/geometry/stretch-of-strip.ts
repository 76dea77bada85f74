import type { LocalPosition } from './local-projection.ts';
import type { OrientedStrip } from './oriented-strip.ts';

/** Corners of the strip's stretch between two places along its axis, counted from the end where the axis begins. */
export function stretchOfStrip(strip: OrientedStrip, fromM: number, toM: number): readonly LocalPosition[] {
  const corner = (fromEndM: number, across: number): LocalPosition => {
    const along = fromEndM - strip.lengthM / 2;
    return [
      strip.centreEastM + along * strip.alongEast + across * strip.alongNorth,
      strip.centreNorthM + along * strip.alongNorth - across * strip.alongEast,
    ];
  };
  const half = strip.widthM / 2;
  return [corner(fromM, -half), corner(fromM, half), corner(toM, half), corner(toM, -half)];
}
