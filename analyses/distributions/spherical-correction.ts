import { lowerRoot } from '../cholesky.ts';
import { seededGenerator } from '../seeded-generator.ts';
import { chiSquaredUpperTail } from './chi-squared.ts';
import type { Sides } from './dunnett-distribution.ts';

type Matrix = readonly (readonly number[])[];

/** What one correlation matrix adds to the chance, under another near it, that the largest variable exceeds w. */
export interface SphericalCorrection {
  /** P(max > w) under `correlation` minus that under `near`. */
  readonly differenceAt: (w: number) => number;
  /** Twice its standard error over the shifts. */
  readonly errorAt: (w: number) => number;
}

/**
 * A rank-1 lattice of 8191 points for up to 13 dimensions, its generators found one component at a time for the smallest
 * worst-case error in a Korobov space of smoothness 2 with weights 1 / (1 + 0.3 j).
 */
const POINTS = 8191;
const GENERATORS = [1, 3457, 2970, 655, 1886, 3802, 1993, 1957, 2031, 1820, 2172, 2061, 2761];
export const MOST_VARIABLES = GENERATORS.length - 1;
/** Independent random shifts of the lattice: their spread tells the error. */
const SHIFTS = 4;
const SEED = 19550101;

/** Largest values are gathered on a grid of this step in their logarithm; cubic weights leave about 1e-8. */
const STEP = 0.02;
/** exp(-8): a largest value below this on the unit sphere exceeds nothing that counts. */
const CELLS = 8 / STEP;

/**
 * Lattice integration for correlations that no two factors carry: the difference from a near matrix whose tail is known.
 *
 * A vector of correlated normals is a direction on the sphere times a radius; given the direction, the chance that its
 * largest element exceeds w is a tail of chi-squared, exact. Directions come from a lattice, and the same ones serve both
 * matrices, so what the two have in common cancels and the error falls with their difference.
 *
 * @param correlation - k x k, 2 to 12 variables, positive semidefinite
 * @param near - of the same size
 * Sources: I. Deák (1980) Numer. Math. 35:35-60 (directions and radius); D. Nuyens & R. Cools (2006) Math. Comp.
 * 75:903-920 (lattice, component by component); R. Cranley & T. Patterson (1976) SIAM J. Numer. Anal. 13:904-914 (shifts).
 */
export function sphericalCorrection(correlation: Matrix, near: Matrix, sides: Sides): SphericalCorrection {
  const k = correlation.length;
  if (k < 2 || k > MOST_VARIABLES)
    throw new RangeError(`sphericalCorrection: expected 2 to ${MOST_VARIABLES} variables, got ${k}`);
  const random = seededGenerator(SEED);
  const [own, other] = [lowerRoot(correlation), lowerRoot(near)];
  const gathered = Array.from({ length: SHIFTS }, () => {
    const shift = GENERATORS.map(() => random());
    return gatheredDifference(own, other, shift, sides);
  });
  const mean = {
    above: meanOf(gathered.map(({ above }) => above)),
    below: meanOf(gathered.map(({ below }) => below)),
  };
  return {
    differenceAt: (w) => weighedTail(mean, k, w),
    errorAt: (w) => {
      const each = gathered.map((one) => weighedTail(one, k, w));
      const middle = each.reduce((sum, value) => sum + value, 0) / SHIFTS;
      const squares = each.reduce((sum, value) => sum + (value - middle) ** 2, 0);
      return 2 * Math.sqrt(squares / (SHIFTS * (SHIFTS - 1)));
    },
  };
}

/** Weights of largest values on the grid: those above zero, and those below zero by their size (one side alone). */
interface Gathered {
  readonly above: Float64Array;
  readonly below: Float64Array;
}

function meanOf(shifts: readonly Float64Array[]): Float64Array {
  return Float64Array.from(
    { length: CELLS + 1 },
    (_, cell) => shifts.reduce((sum, weights) => sum + weights[cell]!, 0) / SHIFTS,
  );
}

function weighedTail({ above, below }: Gathered, k: number, w: number): number {
  const weights = w >= 0 ? above : below;
  let sum = 0;
  for (let cell = 0; cell <= CELLS; cell++) {
    if (weights[cell] === 0) continue;
    sum += weights[cell]! * chiSquaredUpperTail((w * Math.exp(cell * STEP)) ** 2, k);
  }
  // Beyond -w lies all that is not below it: the same tail seen from the other end, with the opposite sign.
  return w >= 0 ? sum : -sum;
}

function gatheredDifference(own: Matrix, other: Matrix, shift: readonly number[], sides: Sides): Gathered {
  const k = own.length;
  const gathered = { above: new Float64Array(CELLS + 1), below: new Float64Array(CELLS + 1) };
  const direction = new Float64Array(k + 1);
  for (let point = 0; point < POINTS; point++) {
    placeOnSphere(point, shift, k, direction);
    gather(gathered, largestElement(own, direction, sides), 1 / POINTS);
    gather(gathered, largestElement(other, direction, sides), -1 / POINTS);
  }
  return gathered;
}

/** Pairs of coordinates: a share of the squared length each, turned by an angle. Odd k: the last is left out. */
function placeOnSphere(point: number, shift: readonly number[], k: number, direction: Float64Array): void {
  const pairs = Math.ceil(k / 2);
  let left = 1;
  for (let pair = 0; pair < pairs; pair++) {
    const others = pairs - 1 - pair;
    let share = left;
    if (others > 0) {
      const place = coordinate(point, pairs + pair, shift);
      share = left * (1 - Math.abs(2 * place - 1) ** (1 / others));
    }
    left -= share;
    const angle = 2 * Math.PI * coordinate(point, pair, shift);
    direction[2 * pair] = Math.sqrt(share) * Math.cos(angle);
    direction[2 * pair + 1] = Math.sqrt(share) * Math.sin(angle);
  }
  if (k % 2 === 0) return;
  const length = Math.sqrt(1 - direction[k]! ** 2);
  for (let i = 0; i < k; i++) direction[i] = direction[i]! / length;
}

function coordinate(point: number, dimension: number, shift: readonly number[]): number {
  const place = ((point * GENERATORS[dimension]!) % POINTS) / POINTS + shift[dimension]!;
  return place >= 1 ? place - 1 : place;
}

function largestElement(root: Matrix, direction: Float64Array, sides: Sides): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < root.length; i++) {
    const row = root[i]!;
    let value = 0;
    for (let j = 0; j <= i; j++) value += row[j]! * direction[j]!;
    if (sides === 'two') value = Math.abs(value);
    if (value > largest) largest = value;
  }
  return largest;
}

/** Shares a weight among four neighbours on the grid of -ln|value| by cubic interpolation. */
function gather({ above, below }: Gathered, value: number, weight: number): void {
  const cells = value > 0 ? above : below;
  const place = value === 0 ? CELLS : -Math.log(Math.abs(value)) / STEP;
  const cell = Math.min(CELLS - 2, Math.max(1, Math.floor(place)));
  const t = Math.min(CELLS, place) - cell;
  cells[cell - 1] = cells[cell - 1]! - (weight * t * (t - 1) * (t - 2)) / 6;
  cells[cell] = cells[cell]! + (weight * (t + 1) * (t - 1) * (t - 2)) / 2;
  cells[cell + 1] = cells[cell + 1]! - (weight * (t + 1) * t * (t - 2)) / 2;
  cells[cell + 2] = cells[cell + 2]! + (weight * (t + 1) * t * (t - 1)) / 6;
}
