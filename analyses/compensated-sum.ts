/**
 * Sum with the rounding error of every addition carried along (Neumaier's variant of Kahan's summation).
 *
 * The error of the result is about one unit in the last place, however many terms there are.
 * Source: A. Neumaier (1974) Z. Angew. Math. Mech. 54:39-51.
 */
export function compensatedSum(values: readonly number[]): number {
  let sum = 0;
  let lost = 0;
  for (const value of values) {
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** Sum of products of two columns of equal length, with compensated additions. */
export function compensatedDot(left: ArrayLike<number>, right: ArrayLike<number>, from = 0): number {
  let sum = 0;
  let lost = 0;
  for (let i = from; i < left.length; i++) {
    const value = left[i]! * right[i]!;
    const next = sum + value;
    // Knuth's sum of two, which needs no branch: the rounding error of next, exactly.
    const part = next - sum;
    lost += sum - (next - part) + (value - part);
    sum = next;
  }
  return sum + lost;
}

/** Sum of squares, with compensated additions. */
export function compensatedSumOfSquares(values: ArrayLike<number>): number {
  return compensatedDot(values, values);
}

/** Arithmetic mean; a second pass over the deviations takes out what rounding left in the first. */
export function compensatedMean(values: readonly number[]): number {
  const first = compensatedSum(values) / values.length;
  return first + compensatedSum(values.map((value) => value - first)) / values.length;
}
