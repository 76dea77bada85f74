import { compensatedMean, compensatedSum, compensatedSumOfSquares } from './compensated-sum.ts';
import { normalUpperQuantile, normalUpperTail } from './distributions/normal.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';

export interface ShapiroWilk {
  readonly n: number;
  /** Near 1 for normal values. */
  readonly w: number;
  /** Approximate, as the source gives it; exact for n = 3. */
  readonly p: number;
}

const FEWEST = 3;
const MOST = 5000;

/**
 * Shapiro and Wilk's test: do these values look like a sample from one normal distribution?
 *
 * Definition: Royston's approximation (algorithm AS R94), as most packages compute it. Residuals of a model are not quite
 * a sample (they sum to zero within every level), so p is a guide there; with two treatments in blocks give it the
 * differences, since the residuals of a block are plus and minus one half of its difference.
 *
 * @param values - in any order, 3 to 5000 of them
 * @returns W and p, or a refusal: `tooFewPlots` {plots, needed}, `nonFiniteValue` {plot}, `constantResponse`
 * @throws RangeError for more than 5000 values, where the approximation was not made
 * Source: P. Royston (1995) Appl. Stat. 44:547-551.
 */
export function shapiroWilk(values: readonly number[]): ShapiroWilk | Refusal {
  const n = values.length;
  if (n < FEWEST) return refuse('tooFewPlots', { plots: n, needed: FEWEST });
  if (n > MOST) throw new RangeError(`shapiroWilk: expected at most ${MOST} values, got ${n}`);
  const plot = values.findIndex((value) => !Number.isFinite(value));
  if (plot >= 0) return refuse('nonFiniteValue', { plot });
  const mean = compensatedMean(values);
  const sorted = values.map((value) => value - mean).sort((x, y) => x - y);
  const squares = compensatedSumOfSquares(sorted);
  if (squares <= roundingSumOfSquares(values)) return refuse('constantResponse', { value: mean });
  const weights = shapiroWeights(n);
  const products = weights.map((weight, i) => weight * (sorted[n - 1 - i]! - sorted[i]!));
  const length = Math.sqrt(2 * compensatedSumOfSquares(weights) * squares);
  const along = compensatedSum(products);
  const oneMinusW = ((length - along) * (length + along)) / (length * length);
  return { n, w: 1 - oneMinusW, p: pOf(oneMinusW, n) };
}

/** Weights of the differences largest - smallest, second largest - second smallest, and so on. */
function shapiroWeights(n: number): number[] {
  if (n === 3) return [Math.SQRT1_2];
  const half = Math.floor(n / 2);
  const m = Array.from({ length: half }, (_, i) => normalUpperQuantile((i + 1 - 0.375) / (n + 0.25)));
  const squares = 2 * compensatedSumOfSquares(m);
  const root = 1 / Math.sqrt(n);
  const first = m[0]! / Math.sqrt(squares) + polynomial(FIRST_WEIGHT, root);
  if (n <= 5) {
    const scale = Math.sqrt((squares - 2 * m[0]! ** 2) / (1 - 2 * first ** 2));
    return [first, ...m.slice(1).map((value) => value / scale)];
  }
  const second = m[1]! / Math.sqrt(squares) + polynomial(SECOND_WEIGHT, root);
  const rest = squares - 2 * m[0]! ** 2 - 2 * m[1]! ** 2;
  const scale = Math.sqrt(rest / (1 - 2 * first ** 2 - 2 * second ** 2));
  return [first, second, ...m.slice(2).map((value) => value / scale)];
}

/** Royston's coefficients, lowest power first. */
const FIRST_WEIGHT = [0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056];
const SECOND_WEIGHT = [0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633];
const SMALL_LIMIT = [-2.273, 0.459];
const SMALL_MEAN = [0.544, -0.39978, 0.025054, -6.714e-4];
const SMALL_LOG_SD = [1.3822, -0.77857, 0.062767, -0.0020322];
const LARGE_MEAN = [-1.5861, -0.31082, -0.083751, 0.0038915];
const LARGE_LOG_SD = [-0.4803, -0.082676, 0.0030302];

function pOf(oneMinusW: number, n: number): number {
  if (n === 3) return exactForThree(oneMinusW);
  const log = Math.log(oneMinusW);
  if (n > 11) {
    const logN = Math.log(n);
    return normalUpperTail((log - polynomial(LARGE_MEAN, logN)) / Math.exp(polynomial(LARGE_LOG_SD, logN)));
  }
  const limit = polynomial(SMALL_LIMIT, n);
  if (log >= limit) return 0;
  const shifted = -Math.log(limit - log);
  return normalUpperTail((shifted - polynomial(SMALL_MEAN, n)) / Math.exp(polynomial(SMALL_LOG_SD, n)));
}

/** W of three values is at least 3/4; p = 6/pi (asin sqrt(W) - asin sqrt(3/4)). */
function exactForThree(oneMinusW: number): number {
  const p = (6 / Math.PI) * (Math.acos(Math.sqrt(Math.max(0, oneMinusW))) - Math.PI / 3);
  return Math.min(1, Math.max(0, p));
}

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}
