import { compensatedMean, compensatedSumOfSquares } from './compensated-sum.ts';
import { confoundingRefusal } from './confounding.ts';
import { designBasis, type OwnDirections } from './design-basis.ts';
import { fUpperTail } from './distributions/f.ts';
import type { OrthogonalBasis } from './householder.ts';
import { requireWellFormedTerms } from './model-term-checks.ts';
import type { ModelTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { Response } from './response.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';

/** One line of the analysis of variance, for one term of the model. */
export interface AnovaRow {
  readonly term: string;
  readonly df: number;
  /** Sum of squares, adjusted as {@link fitLinearModel} says. Units of the response, squared. */
  readonly ss: number;
  /** ss / df; null when df is 0 (a factor with a single level). */
  readonly ms: number | null;
  /** ms over the error's; null without error df, or when the error is zero. */
  readonly f: number | null;
  readonly p: number | null;
}

export interface LinearModelFit {
  readonly response: Response;
  readonly terms: readonly ModelTerm[];
  /** One row a term, in the order of the terms. */
  readonly rows: readonly AnovaRow[];
  /** `ms` is null when no degree of freedom is left for error. */
  readonly error: { readonly df: number; readonly ss: number; readonly ms: number | null };
  /** About the grand mean. */
  readonly total: { readonly df: number; readonly ss: number };
  /** Plots. */
  readonly n: number;
  readonly grandMean: number;
  /** 100 sqrt(error ms) / grand mean; null without error df, or when the mean is not positive. */
  readonly cvPercent: number | null;
  /** One a plot; fitted value = origin + fittedDeviations[i] = origin + deviations[i] - residuals[i]. */
  readonly residuals: readonly number[];
  readonly fittedDeviations: readonly number[];
  /** Of the constant and all terms' columns, in their order; whatever is asked of the fit later works on it. */
  readonly basis: OrthogonalBasis;
  /** Of the response about its mean, along the basis. */
  readonly coordinates: Float64Array;
  /** The model fits without remainder though error df are left: the error is exactly zero and judges nothing. */
  readonly exactFit: boolean;
}

/**
 * The analysis of variance of an additive linear model over plots, by least squares.
 *
 * Question: how much of the plots' variation goes with each term, and how much is left as error? Completely randomized
 * designs, blocks (complete or not), Latin squares, factorials and covariates are all cases of it.
 *
 * Definition: each term's sum of squares is adjusted for all other terms, save that a factor is not adjusted for the
 * interactions that contain it (often called type II). Where the terms are orthogonal, as in a complete trial, all
 * definitions agree and the sums add up to the total; where a plot is lost they need not add up. All terms are fixed,
 * F is against the residual error.
 *
 * Accuracy: works on deviations about their mean by orthogonal reflections, never by sums of squares of raw values.
 * A sum of squares no larger than the rounding of the values explains (n (16 eps max|deviation|)^2) is exactly zero:
 * rounding noise must not pass for error.
 *
 * @param response - one value a plot; means are in its units
 * @param terms - at least one; see {@link ModelTerm}
 * @returns the fit, or a refusal: `nonFiniteValue` {plot} or {plot, term}; `tooFewPlots`; `constantResponse`;
 * `emptyCell`; `confoundedTerms`. No error df is no refusal: F, p and the error's ms are null.
 * @throws RangeError when terms do not match the plots, ids repeat, or a level below levelCount is on no plot
 * Source: G. A. F. Seber & A. J. Lee (2003) Linear Regression Analysis, 2nd ed., ch. 3, 8 and 11.
 */
export function fitLinearModel(response: Response, terms: readonly ModelTerm[]): LinearModelFit | Refusal {
  const n = response.deviations.length;
  requireWellFormedTerms(n, terms);
  const unfit =
    nonFinite(response, terms) ?? (n < 2 ? refuse('tooFewPlots', { plots: n, parameters: 2 }) : null);
  if (unfit !== null) return unfit;
  const mean = compensatedMean(response.deviations);
  const centred = response.deviations.map((deviation) => deviation - mean);
  const noise = roundingSumOfSquares(response.deviations);
  const totalSs = compensatedSumOfSquares(centred);
  if (totalSs <= noise) return refuse('constantResponse', { value: response.origin + mean });
  const design = designBasis(n, terms);
  const { basis } = design;
  if (basis.dependent.length > 0) return confoundingRefusal(n, terms);

  const error = errorOf(centred, basis, noise);
  const residuals = error.ss === 0 ? centred.map(() => 0) : error.residuals;
  const grandMean = response.origin + mean;
  const coordinates = basis.rotate(centred).subarray(0, basis.triangle.length);
  const row = (term: ModelTerm, index: number) => {
    const own = ownCoordinates(design.ownDirections(index), coordinates);
    return anovaRow(term.id, own, noise, error);
  };
  return {
    response,
    terms,
    rows: terms.map(row),
    error: { df: error.df, ss: error.ss, ms: error.ms },
    total: { df: n - 1, ss: totalSs },
    n,
    grandMean,
    cvPercent: error.ms !== null && grandMean > 0 ? (100 * Math.sqrt(error.ms)) / grandMean : null,
    residuals,
    fittedDeviations: response.deviations.map((deviation, i) => deviation - residuals[i]!),
    basis,
    coordinates,
    exactFit: error.df > 0 && error.ss === 0,
  };
}

interface ErrorLine {
  readonly df: number;
  readonly ss: number;
  readonly ms: number | null;
  readonly residuals: readonly number[];
}

function errorOf(centred: readonly number[], basis: OrthogonalBasis, noise: number): ErrorLine {
  const df = centred.length - basis.triangle.length;
  const residuals = [...basis.remainder(centred)];
  const ss = df === 0 ? 0 : zeroIfNoise(compensatedSumOfSquares(residuals), noise);
  return { df, ss, ms: df === 0 ? null : ss / df, residuals };
}

function anovaRow(term: string, own: Float64Array, noise: number, error: ErrorLine): AnovaRow {
  const df = own.length;
  if (df === 0) return { term, df, ss: 0, ms: null, f: null, p: null };
  const ss = zeroIfNoise(compensatedSumOfSquares(own), noise);
  const ms = ss / df;
  if (error.ms === null || error.ms === 0) return { term, df, ss, ms, f: null, p: null };
  const f = ms / error.ms;
  return { term, df, ss, ms, f, p: fUpperTail(f, df, error.df) };
}

/** Of the response along a term's own directions, those of the terms it is adjusted for taken out first. */
function ownCoordinates({ basis, first, count }: OwnDirections, coordinates: Float64Array): Float64Array {
  const reordered = basis === null ? coordinates : basis.rotate(coordinates);
  return reordered.subarray(first, first + count);
}

function zeroIfNoise(ss: number, noise: number): number {
  return ss <= noise ? 0 : ss;
}

function nonFinite(response: Response, terms: readonly ModelTerm[]): Refusal | null {
  const plot = response.deviations.findIndex((deviation) => !Number.isFinite(response.origin + deviation));
  if (plot >= 0) return refuse('nonFiniteValue', { plot });
  for (const term of terms) {
    const covariates =
      term.kind === 'covariate' ? [term.valueOfPlot] : term.kind === 'covariates' ? term.valuesOfPlot : [];
    for (const valueOfPlot of covariates) {
      const at = valueOfPlot.findIndex((value) => !Number.isFinite(value));
      if (at >= 0) return refuse('nonFiniteValue', { plot: at, term: term.id });
    }
  }
  return null;
}
