import { compensatedDot, compensatedSumOfSquares } from './compensated-sum.ts';
import { fUpperTail } from './distributions/f.ts';
import { DEPENDENT_SHARE } from './householder.ts';
import { fitLinearModel, type LinearModelFit } from './linear-model.ts';
import { columnsOfTerm } from './model-columns.ts';
import type { CovariateTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';

/** One degree of freedom taken out of a model's error. */
export interface AddedCovariate {
  readonly ss: number;
  readonly df: 1;
  readonly remainder: { readonly df: number; readonly ss: number };
  readonly f: number;
  readonly p: number;
}

const ID = 'added covariate';

/**
 * Does one more covariate explain part of a model's error? The extra sum of squares against what remains.
 *
 * @param fit - of {@link fitLinearModel}
 * @param valueOfPlot - one a plot
 * @returns the test, or a refusal: `noErrorDf` when fewer than two are there to share, `noErrorVariation` when the model or
 * the extended one fits exactly, `confoundedTerms` when the terms determine the covariate, `nonFiniteValue`
 */
export function addedCovariate(
  fit: LinearModelFit,
  valueOfPlot: readonly number[],
): AddedCovariate | Refusal {
  if (fit.error.df < 2) return refuse('noErrorDf', { errorDf: fit.error.df });
  if (fit.exactFit) return refuse('noErrorVariation', { errorDf: fit.error.df });
  const term: CovariateTerm = { kind: 'covariate', id: ID, valueOfPlot };
  const own = ownDirection(fit, term);
  // What cannot be used is named by the model with it in.
  if (own === null) {
    const extended = fitLinearModel(fit.response, [...fit.terms, term]);
    return 'refused' in extended ? extended : refuse('noErrorVariation', { errorDf: fit.error.df - 1 });
  }
  const along = compensatedDot(own, fit.residuals);
  const ss = along ** 2;
  const rest = compensatedSumOfSquares(fit.residuals.map((residual, i) => residual - along * own[i]!));
  const df = fit.error.df - 1;
  if (rest <= roundingSumOfSquares(fit.response.deviations))
    return refuse('noErrorVariation', { errorDf: df });
  const f = ss / (rest / df);
  return { ss, df: 1, remainder: { df, ss: rest }, f, p: fUpperTail(f, 1, df) };
}

/** Part of the covariate that no term explains, of length 1; null where there is none. */
function ownDirection(fit: LinearModelFit, term: CovariateTerm): Float64Array | null {
  if (term.valueOfPlot.length !== fit.n || term.valueOfPlot.some((value) => !Number.isFinite(value)))
    return null;
  const column = columnsOfTerm(term, [term])[0]!;
  const direction = fit.basis.remainder(column);
  const length = Math.sqrt(compensatedSumOfSquares(direction));
  if (!(length > DEPENDENT_SHARE * Math.sqrt(compensatedSumOfSquares(column)))) return null;
  return direction.map((value) => value / length);
}
