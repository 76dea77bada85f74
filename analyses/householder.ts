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
}

/** A column counts as dependent when no more than this share of its length is left. */
const DEPENDENT_SHARE = 1e-9;

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
    const rotated = reflectAll(reflectors, column);
    const row = reflectors.length;
    const length = Math.sqrt(compensatedDot(rotated, rotated, row));
    if (!(length > DEPENDENT_SHARE * Math.sqrt(compensatedDot(column, column)))) {
      dependent.push(place);
      return;
    }
    const head = rotated[row]! > 0 ? -length : length;
    triangle.push([...rotated.slice(0, row), head]);
    reflectors.push(unitReflector(rotated, row, head));
  });
  const rotate = (values: ArrayLike<number>) => reflectAll(reflectors, values);
  return { dependent, triangle, rotate, remainder: (values) => remainderOf(reflectors, values) };
}

function unitReflector(rotated: Float64Array, row: number, head: number): Float64Array {
  const reflector = rotated.slice();
  reflector.fill(0, 0, row);
  reflector[row] = rotated[row]! - head;
  const length = Math.sqrt(compensatedDot(reflector, reflector, row));
  return reflector.map((value) => value / length);
}

function reflectAll(reflectors: readonly Float64Array[], values: ArrayLike<number>): Float64Array {
  const rotated = Float64Array.from(values);
  reflectors.forEach((reflector, row) => {
    reflect(reflector, row, rotated);
  });
  return rotated;
}

function remainderOf(reflectors: readonly Float64Array[], values: ArrayLike<number>): Float64Array {
  const rotated = reflectAll(reflectors, values);
  rotated.fill(0, 0, reflectors.length);
  for (let row = reflectors.length - 1; row >= 0; row--) reflect(reflectors[row]!, row, rotated);
  return rotated;
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
