/** A diagonal left no larger than this (of unit variances) belongs to a variable that others determine. */
const SINGULAR = 1e-7;

/**
 * Lower triangle whose product with its transpose is the matrix, symmetric and positive semidefinite, variances about 1; a
 * variable that others determine adds no column.
 *
 * Source: G. H. Golub & C. F. Van Loan (2013) Matrix Computations, 4th ed., section 4.2.
 */
export function lowerRoot(matrix: readonly (readonly number[])[]): number[][] {
  const root = matrix.map((row) => row.map(() => 0));
  for (let j = 0; j < matrix.length; j++)
    for (let i = j; i < matrix.length; i++) {
      let rest = matrix[i]![j]!;
      for (let before = 0; before < j; before++) rest -= root[i]![before]! * root[j]![before]!;
      if (i === j) root[j]![j] = Math.sqrt(Math.max(0, rest));
      else root[i]![j] = root[j]![j]! > SINGULAR ? rest / root[j]![j]! : 0;
    }
  return root;
}

/** Solves root x = values for a lower triangle without zeros on its diagonal. */
export function forwardSolved(root: readonly (readonly number[])[], values: readonly number[]): number[] {
  const solved: number[] = [];
  values.forEach((value, i) => {
    let rest = value;
    for (let j = 0; j < i; j++) rest -= root[i]![j]! * solved[j]!;
    solved.push(rest / root[i]![i]!);
  });
  return solved;
}
