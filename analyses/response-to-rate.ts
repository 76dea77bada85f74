import type { AdjustedMeans } from './adjusted-means.ts';
import { alphaRefusal } from './alpha.ts';
import { forwardSolved, lowerRoot } from './cholesky.ts';
import { compensatedDot, compensatedMean, compensatedSumOfSquares } from './compensated-sum.ts';
import { fUpperTail } from './distributions/f.ts';
import { tTwoSidedP, tUpperQuantile } from './distributions/t.ts';
import { orthogonalBasis, weightsOnBasis } from './householder.ts';
import { largestMagnitude } from './largest-magnitude.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface RateLine {
  readonly source: 'linear' | 'quadratic' | 'lackOfFit';
  readonly df: number;
  readonly ss: number;
  readonly ms: number;
  readonly f: number;
  readonly p: number;
}

export interface RateCoefficient {
  readonly estimate: number;
  readonly standardError: number;
  readonly t: number;
  /** Two-sided. */
  readonly p: number;
  readonly lower: number;
  readonly upper: number;
}

/** Response = constant + slope (rate - centre) + curvature (rate - centre)^2. */
export interface RateCurve {
  readonly centre: number;
  readonly constant: number;
  /** At the centre. */
  readonly slope: number;
  readonly curvature: number;
  /** Of slope and curvature; the error mean square is in it. */
  readonly slopeVariance: number;
  readonly slopeCurvatureCovariance: number;
  readonly curvatureVariance: number;
}

export interface ResponseToRate {
  readonly alpha: number;
  readonly errorDf: number;
  readonly lowestRate: number;
  readonly highestRate: number;
  /** Linear, quadratic after linear, the rest; those that the number of rates has room for. */
  readonly lines: readonly RateLine[];
  /** Of the straight line, response per unit of rate. */
  readonly slope: RateCoefficient;
  /** Of the curve, per unit of rate squared; null below three rates. */
  readonly curvature: RateCoefficient | null;
  readonly curve: RateCurve | null;
}

/**
 * How does the response follow the rate? A straight line and a parabola through the means of a quantitative treatment.
 *
 * Definition: generalised least squares on the adjusted means with their covariance, which gives what the same polynomial
 * gives on the plots beside blocks and covariates. Sums of squares are in order: linear, quadratic after it, lack of fit
 * (what the rates explain beyond the parabola), each against the trial's own error; with equal replication they are the
 * orthogonal polynomials, for any spacing of the rates, and add up to the treatments' line.
 *
 * @param means - of the treatments
 * @param rates - one a level; null for a treatment that is no rate of this series
 * @param alpha - two-sided, of the intervals, 0 < alpha <= 0.5
 * @returns the fit, or a refusal: `alphaOutOfRange`; `nonFiniteValue` {level}; `tooFewRates` {rates, needed} below two
 * different rates; `noErrorDf`; `noErrorVariation`
 * @throws RangeError when rates do not match the levels
 * Source: W. G. Cochran & G. M. Cox (1957) Experimental Designs, section 3.5; F. Yates (1937) Design and Analysis of
 * Factorial Experiments.
 */
export function responseToRate(
  means: AdjustedMeans,
  rates: readonly (number | null)[],
  alpha: number,
): ResponseToRate | Refusal {
  if (rates.length !== means.means.length)
    throw new RangeError(`responseToRate: expected ${means.means.length} rates, got ${rates.length}`);
  const refused = alphaRefusal(alpha) ?? unfitRates(rates);
  if (refused !== null) return refused;
  const { df, ms } = means.error;
  if (ms === null) return refuse('noErrorDf', { term: means.term });
  if (ms === 0) return refuse('noErrorVariation', { term: means.term, errorDf: df });
  const levels = rates.flatMap((rate, level) => (rate === null ? [] : [level]));
  const series = levels.map((level) => rates[level]!);
  const fitted = fitPolynomial(means, levels, series, new Set(series).size > 2 ? 2 : 1);
  const origin = means.means[levels[0]!]!.mean - means.means[levels[0]!]!.deviation;
  const curve = curveOf(fitted, ms, origin);
  return {
    alpha,
    errorDf: df,
    lowestRate: Math.min(...series),
    highestRate: Math.max(...series),
    lines: linesOf(fitted, ms, df),
    slope: coefficient(
      fitted.slopeOfLine / fitted.scale,
      (ms * fitted.lineUnitVariance) / fitted.scale ** 2,
      df,
      alpha,
    ),
    curvature: curve === null ? null : coefficient(curve.curvature, curve.curvatureVariance, df, alpha),
    curve,
  };
}

function unfitRates(rates: readonly (number | null)[]): Refusal | null {
  const level = rates.findIndex((rate) => rate !== null && !Number.isFinite(rate));
  if (level >= 0) return refuse('nonFiniteValue', { level });
  const different = new Set(rates.filter((rate) => rate !== null)).size;
  return different < 2 ? refuse('tooFewRates', { rates: different, needed: 2 }) : null;
}

/** Rates as u = (rate - centre) / scale, at most 1 either way; means made independent with unit variance. */
interface FittedPolynomial {
  readonly centre: number;
  readonly scale: number;
  readonly sumsOfSquares: readonly number[];
  readonly lackOfFit: { readonly df: number; readonly ss: number };
  readonly slopeOfLine: number;
  readonly lineUnitVariance: number;
  /** Constant, slope, curvature in u, each as weights of the rotated means; null for a line. */
  readonly weights: readonly [readonly number[], readonly number[], readonly number[]] | null;
  readonly rotated: Float64Array;
}

function fitPolynomial(
  means: AdjustedMeans,
  levels: readonly number[],
  rates: readonly number[],
  degree: 1 | 2,
): FittedPolynomial {
  const centre = compensatedMean(rates);
  const scale = largestMagnitude(rates.map((rate) => rate - centre));
  const u = rates.map((rate) => (rate - centre) / scale);
  const root = lowerRoot(levels.map((a) => levels.map((b) => means.unitCovariance[a]![b]!)));
  const columns = [u.map(() => 1), u, u.map((value) => value * value)].slice(0, degree + 1);
  const basis = orthogonalBasis(columns.map((column) => forwardSolved(root, column)));
  const deviations = levels.map((level) => means.means[level]!.deviation);
  const rotated = basis.rotate(forwardSolved(root, deviations));
  const line = weightsOnBasis(basis.triangle.slice(0, 2), [0, 1]);
  const weightsOf = (wanted: readonly number[]) => weightsOnBasis(basis.triangle, wanted);
  return {
    centre,
    scale,
    sumsOfSquares: columns.slice(1).map((_, i) => rotated[i + 1]! ** 2),
    lackOfFit: {
      df: levels.length - degree - 1,
      ss: compensatedSumOfSquares(rotated.slice(degree + 1)),
    },
    slopeOfLine: compensatedDot(line, rotated),
    lineUnitVariance: compensatedDot(line, line),
    weights: degree === 1 ? null : [weightsOf([1, 0, 0]), weightsOf([0, 1, 0]), weightsOf([0, 0, 1])],
    rotated,
  };
}

function linesOf(fitted: FittedPolynomial, ms: number, errorDf: number): RateLine[] {
  const line = (source: RateLine['source'], df: number, ss: number): RateLine => {
    const f = ss / df / ms;
    return { source, df, ss, ms: ss / df, f, p: fUpperTail(f, df, errorDf) };
  };
  const sources = ['linear', 'quadratic'] as const;
  const lines = fitted.sumsOfSquares.map((ss, i) => line(sources[i]!, 1, ss));
  const { df, ss } = fitted.lackOfFit;
  return df > 0 ? [...lines, line('lackOfFit', df, ss)] : lines;
}

function curveOf(fitted: FittedPolynomial, ms: number, origin: number): RateCurve | null {
  if (fitted.weights === null) return null;
  const { centre, scale, rotated } = fitted;
  const [constant, slope, curvature] = fitted.weights;
  return {
    centre,
    constant: origin + compensatedDot(constant, rotated),
    slope: compensatedDot(slope, rotated) / scale,
    curvature: compensatedDot(curvature, rotated) / scale ** 2,
    slopeVariance: (ms * compensatedDot(slope, slope)) / scale ** 2,
    slopeCurvatureCovariance: (ms * compensatedDot(slope, curvature)) / scale ** 3,
    curvatureVariance: (ms * compensatedDot(curvature, curvature)) / scale ** 4,
  };
}

function coefficient(estimate: number, variance: number, df: number, alpha: number): RateCoefficient {
  const standardError = Math.sqrt(variance);
  const t = estimate / standardError;
  const half = tUpperQuantile(alpha / 2, df) * standardError;
  return { estimate, standardError, t, p: tTwoSidedP(t, df), lower: estimate - half, upper: estimate + half };
}
