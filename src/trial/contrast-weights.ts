/** Weights of a contrast sum to zero but for rounding of decimals such as 0.3333. */
const SUMS_TO_ZERO = 1e-3;

export function sumsToZero(weights: readonly number[]): boolean {
  const size = sum(weights.map(Math.abs));
  return size > 0 && Math.abs(sum(weights)) <= SUMS_TO_ZERO * size;
}

/** What rounding left of a sum of zero is taken off the weights in proportion to their size. */
export function balanced(weights: readonly number[]): number[] {
  const total = sum(weights);
  const size = sum(weights.map(Math.abs));
  return weights.map((own) => (size === 0 ? own : own - (total * Math.abs(own)) / size));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, own) => total + own, 0);
}
