import { type AnovaRow, fitLinearModel, type LinearModelFit } from './linear-model.ts';
import { type Refusal, refuse } from './refusal.ts';

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
  const extended = fitLinearModel(fit.response, [...fit.terms, { kind: 'covariate', id: ID, valueOfPlot }]);
  if ('refused' in extended) return extended;
  const row: AnovaRow = extended.rows[extended.rows.length - 1]!;
  if (row.f === null || row.p === null) return refuse('noErrorVariation', { errorDf: extended.error.df });
  const remainder = { df: extended.error.df, ss: extended.error.ss };
  return { ss: row.ss, df: 1, remainder, f: row.f, p: row.p };
}
