import { compensatedDot } from './compensated-sum.ts';

/** An orthogonal basis of the space that some columns span, built column by column in the given order. */
export interface OrthogonalBasis {
  /** Places of the columns that lie in the span of the columns before them; they add no direction. */
  readonly dependent: readonly number[];
  /** Upper triangle of the remaining columns, one array of length j + 1 for the j-th of them. */
  readonly triangle: readonly (readonly number[])[];
  /** Coordinates of a vector: first along the basis, one for each independent column, then the remainder. */
  readonly rotate: (values: ArrayLike<number>) => Float64Array;
  /** What is left of a vector when its part in the span is taken out. */
  readonly remainder: (values: ArrayLike<number>) => Float64Array;
  /** For each place, the squared length of its part in the span: the leverage of a plot. */
  readonly leverages: () => Float64Array;
}

/** A column counts as dependent when no more than this share of its length is left. */
export const DEPENDENT_SHARE = 1e-9;

/**
 * Householder triangularisation without exchange of columns, with compensated inner products.
 *
 * The reflections act on the vectors themselves, never on sums of squares and products, so no digits are lost to
 * squaring the condition. Source: A. S. Householder (1958) J. ACM 5:339-342.
 *
 * @param columns - columns of equal length
 */
export function orthogonalBasis(columns: readonly ArrayLike<number>[]): OrthogonalBasis {
  const reflectors: Float64Array[] = [];
  const triangle: number[][] = [];
  const dependent: number[] = [];
  columns.forEach((column, place) => {
    const rotated = Float64Array.from(column);
    const whole = Math.sqrt(compensatedDot(rotated, rotated, 0));
    reflectAll(reflectors, rotated);
    const row = reflectors.length;
    const length = Math.sqrt(compensatedDot(rotated, rotated, row));
    if (!(length > DEPENDENT_SHARE * whole)) {
      dependent.push(place);
      return;
    }
    const head = rotated[row]! > 0 ? -length : length;
    triangle.push([...rotated.subarray(0, row), head]);
    reflectors.push(unitReflector(rotated, row, head));
  });
  let leverages: Float64Array | undefined;
  const rotate = (values: ArrayLike<number>) => reflectAll(reflectors, Float64Array.from(values));
  return {
    dependent,
    triangle,
    rotate,
    remainder: (values) => remainderOf(reflectors, values),
    leverages: () => {
      leverages ??= leveragesOf(reflectors, columns[0]?.length ?? 0);
      return leverages;
    },
  };
}

/** Turns the column, which is not needed any more, into the reflector that takes it to its head. */
function unitReflector(rotated: Float64Array, row: number, head: number): Float64Array {
  rotated.fill(0, 0, row);
  rotated[row] = rotated[row]! - head;
  const length = Math.sqrt(compensatedDot(rotated, rotated, row));
  for (let i = row; i < rotated.length; i++) rotated[i] = rotated[i]! / length;
  return rotated;
}

function reflectAll(reflectors: readonly Float64Array[], values: Float64Array): Float64Array {
  for (let row = 0; row < reflectors.length; row++) reflect(reflectors[row]!, row, values);
  return values;
}

function remainderOf(reflectors: readonly Float64Array[], values: ArrayLike<number>): Float64Array {
  const rotated = reflectAll(reflectors, Float64Array.from(values));
  rotated.fill(0, 0, reflectors.length);
  for (let row = reflectors.length - 1; row >= 0; row--) reflect(reflectors[row]!, row, rotated);
  return rotated;
}

/** Rows of the basis: its j-th direction is the j-th unit vector taken back through all reflections. */
function leveragesOf(reflectors: readonly Float64Array[], length: number): Float64Array {
  const leverages = new Float64Array(length);
  for (let j = 0; j < reflectors.length; j++) {
    const direction = new Float64Array(length);
    direction[j] = 1;
    for (let row = j; row >= 0; row--) reflect(reflectors[row]!, row, direction);
    for (let i = 0; i < length; i++) leverages[i] = leverages[i]! + direction[i]! ** 2;
  }
  return leverages;
}

function reflect(reflector: Float64Array, row: number, values: Float64Array): void {
  const twice = 2 * compensatedDot(reflector, values, row);
  for (let i = row; i < values.length; i++) values[i] = values[i]! - twice * reflector[i]!;
}

/**
 * Solves c' R = w' for c, R the upper triangle of a basis: c holds the weights of the rotated observations in the
 * estimate whose weights on the columns are w, so the estimate is c'(Q'y) and its variance c'c times the error.
 */
export function weightsOnBasis(
  triangle: readonly (readonly number[])[],
  weights: readonly number[],
): number[] {
  const solved: number[] = [];
  triangle.forEach((column, j) => {
    let rest = weights[j] ?? 0;
    for (let i = 0; i < j; i++) rest -= column[i]! * solved[i]!;
    solved.push(rest / column[j]!);
  });
  return solved;
}
