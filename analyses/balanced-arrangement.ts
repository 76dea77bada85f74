/** One run: the level of each setting, counted from 0. */
export interface ArrangedRun {
  readonly ofThree: readonly number[];
  readonly ofTwo: readonly number[];
}

/** First row of the 12-run plan, for 11 settings of two levels; the others are its cyclic shifts, and one of level 0 alone. */
const PLACKETT_BURMAN_12 = [1, 1, 0, 1, 1, 1, 0, 0, 0, 1, 0] as const;

const MOST_OF_THREE = 4;
const MOST_OF_TWO = PLACKETT_BURMAN_12.length;

/**
 * How can many settings be tried together in few runs, so that none hides behind another? Up to 4 settings of three levels
 * in 9 runs (all mixes of two of them; the third is their sum, the fourth the first plus twice the second, modulo 3:
 * Fisher's Graeco-Latin square of order 3), each run with all of the 12-run plan of Plackett and Burman (1946, Biometrika
 * 33:305-325) for up to 11 settings of two levels. Any two settings show all pairs of their levels equally often, and any
 * three of two levels all their mixes (Box and Tyssedal 1996, Biometrika 83:950-955).
 *
 * The first run has every setting at level 0. With fewer than two settings of three levels their full mix takes 1 or 3
 * runs instead of 9. More settings than fit are a programmer's mistake.
 */
export function balancedArrangement(settingsOfThree: number, settingsOfTwo: number): readonly ArrangedRun[] {
  if (settingsOfThree > MOST_OF_THREE || settingsOfTwo > MOST_OF_TWO) {
    throw new RangeError(
      `got ${settingsOfThree} settings of three levels and ${settingsOfTwo} of two, expected at most ${MOST_OF_THREE} and ${MOST_OF_TWO}`,
    );
  }
  const twos = plackettBurman12().map((levels) => levels.slice(0, settingsOfTwo));
  return threeLevelRuns(settingsOfThree).flatMap((ofThree) => twos.map((ofTwo) => ({ ofThree, ofTwo })));
}

function threeLevelRuns(settings: number): readonly (readonly number[])[] {
  const levels = [0, 1, 2];
  if (settings === 0) return [[]];
  if (settings === 1) return levels.map((level) => [level]);
  return levels.flatMap((a) => levels.map((b) => [a, b, (a + b) % 3, (a + 2 * b) % 3].slice(0, settings)));
}

function plackettBurman12(): readonly (readonly number[])[] {
  const row = PLACKETT_BURMAN_12;
  const shifted = row.map((_, by) => row.map((_level, k) => row[(k - by + row.length) % row.length] ?? 0));
  return [row.map(() => 0), ...shifted];
}
