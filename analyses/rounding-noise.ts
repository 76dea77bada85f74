import { largestMagnitude } from './largest-magnitude.ts';

/** Rounding of a value costs at most half a unit in its last place; arithmetic before it came here a few more. */
const NOISE_UNITS = 16 * Number.EPSILON;

/**
 * The largest sum of squares of deviations that rounding of these values may have made: n (16 eps max|value|)^2. A sum of
 * squares no larger is zero: rounding must not pass for variation.
 */
export function roundingSumOfSquares(values: readonly number[]): number {
  return values.length * (NOISE_UNITS * largestMagnitude(values)) ** 2;
}
