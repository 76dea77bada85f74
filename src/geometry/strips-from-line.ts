import type { LocalPosition } from './local-projection.ts';

/** Strips side by side, drawn up from one line along their edge. */
export interface StripsFromLine {
  readonly start: LocalPosition;
  readonly end: LocalPosition;
  /** Where the strips lie, looking from the start of the line to its end. */
  readonly side: 'left' | 'right';
  readonly widthM: number;
  /** Strips in each group, from the line on. */
  readonly groups: readonly number[];
  readonly gapM: number;
}

/**
 * Corners of each strip, four a strip, anticlockwise from the corner at the line's start (its end, where strips lie on
 * the right): rectangles as long as the line, the first along it, with a gap between one group and the next. Strips
 * that touch share both corners of their edge, digit for digit.
 */
export function stripsFromLine(line: StripsFromLine): readonly (readonly LocalPosition[])[] {
  const { start, end, side, widthM, groups, gapM } = line;
  const lengthM = Math.hypot(end[0] - start[0], end[1] - start[1]);
  const along: LocalPosition = [(end[0] - start[0]) / lengthM, (end[1] - start[1]) / lengthM];
  const turn = side === 'left' ? 1 : -1;
  const across: LocalPosition = [-turn * along[1], turn * along[0]];
  const from = ([east, north]: LocalPosition, acrossM: number): LocalPosition => [
    east + acrossM * across[0],
    north + acrossM * across[1],
  ];
  let before = 0;
  return groups.flatMap((count, group) =>
    Array.from({ length: count }, () => {
      const edges = [before, before + 1].map((edge) => edge * widthM + group * gapM) as [number, number];
      before += 1;
      const corners = [
        from(start, edges[0]),
        from(end, edges[0]),
        from(end, edges[1]),
        from(start, edges[1]),
      ];
      return side === 'left' ? corners : corners.toReversed();
    }),
  );
}
