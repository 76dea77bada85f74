import { tUpperQuantile } from './distributions/t.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { RateCurve, ResponseToRate } from './response-to-rate.ts';

export interface RateOfBestReturn {
  /** In units of response per unit of rate. */
  readonly costPerRate: number;
  readonly rate: number;
  /** Interval at 1 - alpha; null where that end lies outside the rates tried. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** Height of the curve at the rate. */
  readonly response: number;
}

/**
 * The rate at which one unit more no longer pays for itself: where the slope of the parabola equals the cost of a unit of
 * rate, told in units of the response (its price over the price of the crop; 0 gives the rate of the highest response).
 *
 * Interval by Fieller: all rates at which the slope does not differ from the cost by a two-sided t at the alpha of the fit.
 * Chosen over the delta method since the rate is a ratio of two estimates, whose distribution is skewed and wide where the
 * bend is poorly known; Fieller's holds its level exactly, and its interval is bounded just when the bend differs from zero.
 *
 * @param fit - of {@link ResponseToRate}; it must hold a curve that bends downwards
 * @param costPerRate - finite, may be 0
 * @returns the rate, or a refusal: `tooFewRates` {rates, needed} without a curve; `quadraticDoesNotFit` {p} where lack of fit
 * is significant at alpha; `bendsUpwards` {curvature}; `bendNotDistinguishable` {p}; `bestRateOutsideData` {rate, lowest,
 * highest}: nothing is read off a curve beyond the rates tried
 * @throws RangeError when the cost is not finite
 * Source: E. C. Fieller (1954) J. R. Stat. Soc. B 16:175-185.
 */
export function rateOfBestReturn(fit: ResponseToRate, costPerRate: number): RateOfBestReturn | Refusal {
  if (!Number.isFinite(costPerRate))
    throw new RangeError(`rateOfBestReturn: expected a finite cost, got ${costPerRate}`);
  const { curve, curvature, lowestRate: lowest, highestRate: highest } = fit;
  if (curve === null || curvature === null) return refuse('tooFewRates', { rates: 2, needed: 3 });
  const lackOfFit = fit.lines.find((line) => line.source === 'lackOfFit');
  if (lackOfFit !== undefined && lackOfFit.p < fit.alpha)
    return refuse('quadraticDoesNotFit', { p: lackOfFit.p });
  if (curve.curvature >= 0) return refuse('bendsUpwards', { curvature: curve.curvature });
  if (curvature.p >= fit.alpha) return refuse('bendNotDistinguishable', { p: curvature.p });
  const fromCentre = (costPerRate - curve.slope) / (2 * curve.curvature);
  const rate = curve.centre + fromCentre;
  if (!(rate >= lowest && rate <= highest)) return refuse('bestRateOutsideData', { rate, lowest, highest });
  const [lower, upper] = fiellerEnds(curve, costPerRate, tUpperQuantile(fit.alpha / 2, fit.errorDf));
  return {
    costPerRate,
    rate,
    lower: lower >= lowest ? lower : null,
    upper: upper <= highest ? upper : null,
    response: curve.constant + curve.slope * fromCentre + curve.curvature * fromCentre ** 2,
  };
}

/** Ends of the set of x with (slope - cost + 2 curvature x)^2 <= t^2 times its variance, x from the centre. */
function fiellerEnds(curve: RateCurve, costPerRate: number, t: number): [number, number] {
  const excess = curve.slope - costPerRate;
  const a = 4 * (curve.curvature ** 2 - t * t * curve.curvatureVariance);
  const halfB = 2 * (excess * curve.curvature - t * t * curve.slopeCurvatureCovariance);
  const c = excess ** 2 - t * t * curve.slopeVariance;
  // a > 0 since the bend differs from zero at the same alpha; the estimate itself lies inside, so there are two roots.
  const spread = Math.sqrt(Math.max(0, halfB * halfB - a * c));
  return [curve.centre + (-halfB - spread) / a, curve.centre + (-halfB + spread) / a];
}
