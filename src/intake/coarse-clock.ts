/** Rows of one moment are spread where more than this share of the rows repeat the time of the row before. */
const REPEATED_SHARE = 0.1;

/** A clock that counts in longer steps than the log. */
export interface CoarseClock {
  /** Rows that share their time with the row before. */
  readonly count: number;
  /** The usual step of the clock. */
  readonly stepS: number;
}

interface Plateau {
  readonly first: number;
  readonly rows: number;
  /** To the next time; NaN where none later follows. */
  readonly stepS: number;
}

/**
 * Does the clock stand still while rows go on? Times without seconds, or whole seconds in a log of five rows a second,
 * give several rows one time. Such rows are spread evenly over the step, in place, by no more than the usual
 * spacing, so that a pause stays one. Rows at one place too are the same row twice and keep their time. null: no such
 * clock; 'still': it shows one time alone.
 */
export function spreadCoarseTimes(
  timeS: Float64Array,
  longitude: Float64Array,
  latitude: Float64Array,
): CoarseClock | 'still' | null {
  if (repeatedTimes(timeS) <= REPEATED_SHARE * timeS.length) return null;
  const isAgain = (i: number) => longitude[i] === longitude[i - 1] && latitude[i] === latitude[i - 1];
  const plateaus = plateausOf(timeS, isAgain);
  const count = plateaus.reduce((sum, { rows }) => sum + rows - 1, 0);
  if (count <= REPEATED_SHARE * timeS.length) return null;
  const later = plateaus.filter(({ stepS }) => stepS > 0);
  if (later.length === 0) return 'still';
  const spacingS = middleOf(later.map(({ stepS, rows }) => stepS / rows));
  for (const plateau of plateaus) spread(timeS, plateau, spacingS, isAgain);
  return { count, stepS: middleOf(later.map(({ stepS }) => stepS)) };
}

function repeatedTimes(timeS: Float64Array): number {
  let count = 0;
  for (let i = 1; i < timeS.length; i += 1) if (timeS[i] === timeS[i - 1]) count += 1;
  return count;
}

function plateausOf(timeS: Float64Array, isAgain: (i: number) => boolean): Plateau[] {
  const plateaus: Plateau[] = [];
  for (let first = 0; first < timeS.length; ) {
    let end = first + 1;
    let rows = 1;
    for (; timeS[end] === timeS[first]; end += 1) if (!isAgain(end)) rows += 1;
    plateaus.push({ first, rows, stepS: (timeS[end] ?? Number.NaN) - timeS[first]! });
    first = end;
  }
  return plateaus;
}

function spread(
  timeS: Float64Array,
  { first, rows, stepS }: Plateau,
  usualS: number,
  isAgain: (i: number) => boolean,
): void {
  const spacingS = stepS > 0 ? Math.min(stepS / rows, usualS) : usualS;
  const startS = timeS[first]!;
  let place = 0;
  for (let i = first + 1; timeS[i] === startS; i += 1) {
    if (!isAgain(i)) place += 1;
    timeS[i] = startS + place * spacingS;
  }
}

function middleOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[(values.length - 1) >> 1]!;
}
