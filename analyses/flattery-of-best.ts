import { normalUpperTail } from './distributions/normal.ts';

const STEP = 0.02;
const FARTHEST = 9;

/**
 * How far the best of several alike treatments is expected to come out above its true mean, by chance alone, in standard
 * errors of a mean: the expected largest of `treatments` independent standard normal values.
 *
 * Definition: E max = the integral of x d(Phi(x)^k), by the trapezoid rule, whose error is below rounding for such
 * functions. Treatments that differ flatter their best by less.
 *
 * @param treatments - whole number, at least 1
 * @throws RangeError otherwise
 * Source: H. L. Harter (1961) Biometrika 48:151-165 (table).
 * @example flatteryOfBest(5) // 1.16296, so 2.9 % where the CV is 5 % in 4 blocks
 */
export function flatteryOfBest(treatments: number): number {
  if (!Number.isInteger(treatments) || treatments < 1)
    throw new RangeError(`flatteryOfBest: expected a whole number from 1 on, got ${treatments}`);
  let sum = 0;
  for (let i = -Math.round(FARTHEST / STEP); i * STEP <= FARTHEST; i++) {
    const x = i * STEP;
    sum += x * Math.exp(-0.5 * x * x) * normalUpperTail(-x) ** (treatments - 1);
  }
  return (treatments * STEP * sum) / Math.sqrt(2 * Math.PI);
}
