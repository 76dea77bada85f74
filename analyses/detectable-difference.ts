import { alphaRefusal } from './alpha.ts';
import { chiSquaredUpperQuantile } from './distributions/chi-squared.ts';
import { increasingRoot } from './distributions/increasing-root.ts';
import { powerTwoSidedT } from './power-two-sided-t.ts';
import { recentlyUsed } from './recently-used.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface DetectableDifference {
  /** In units of the standard error given. */
  readonly difference: number;
  /** What it would be at the ends of the interval for the true error. */
  readonly lower: number;
  readonly upper: number;
  readonly alpha: number;
  readonly power: number;
  /** Probability that the interval covers, from chi-squared. */
  readonly confidence: number;
}

/**
 * The true difference that a two-sided t at alpha would call significant with a given power.
 *
 * With an estimated standard error the answer is itself an estimate: the interval puts the ends of the chi-squared
 * interval for the error variance in its place. On 3 df it reaches from about half to nearly four times the estimate.
 *
 * @param standardError - of the difference, > 0
 * @param errorDf - whole or not; not positive is the refusal `noErrorDf`
 * @param alpha - two-sided, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * @param power - alpha < power < 1
 * @param confidence - of the interval, 0 < confidence < 1
 * @throws RangeError when the standard error, power or confidence lies outside these bounds
 */
export function detectableDifference(
  standardError: number,
  errorDf: number,
  alpha: number,
  power: number,
  confidence = 0.95,
): DetectableDifference | Refusal {
  if (!(standardError > 0 && standardError < Infinity))
    throw new RangeError(`standard error: expected a positive number, got ${standardError}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence: expected a number in (0, 1), got ${confidence}`);
  if (!(errorDf > 0)) return refuse('noErrorDf');
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const difference = standardError * detectableInStandardErrors(errorDf, alpha, power);
  const outside = (1 - confidence) / 2;
  const scale = (tail: number) => Math.sqrt(errorDf / chiSquaredUpperQuantile(tail, errorDf));
  return {
    difference,
    lower: difference * scale(outside),
    upper: difference * scale(1 - outside),
    alpha,
    power,
    confidence,
  };
}

/**
 * The same in units of the difference's true standard error: only df, alpha and power matter.
 *
 * @throws RangeError unless alpha < power < 1
 */
export function detectableInStandardErrors(errorDf: number, alpha: number, power: number): number {
  if (!(power > alpha && power < 1))
    throw new RangeError(`power: expected more than alpha ${alpha} and less than 1, got ${power}`);
  return kept(`${errorDf} ${alpha} ${power}`, () =>
    increasingRoot((shift) => powerTwoSidedT(shift, errorDf, alpha) - power, 1, 4),
  );
}

/** Trials of one size share it. */
const kept = recentlyUsed<number>(32);
