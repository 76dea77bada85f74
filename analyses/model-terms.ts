/**
 * The terms of one additive linear model over plots. Levels are counted from 0. `levelOfPlot[i]` is the level
 * on plot i; every level below `levelCount` must occur on at least one plot.
 */
export interface FactorTerm {
  readonly kind: 'factor';
  readonly id: string;
  readonly levelOfPlot: readonly number[];
  readonly levelCount: number;
}

export interface CovariateTerm {
  readonly kind: 'covariate';
  readonly id: string;
  readonly valueOfPlot: readonly number[];
}

/** Several covariates that are judged together, on one line of the table; one list of values each. */
export interface CovariatesTerm {
  readonly kind: 'covariates';
  readonly id: string;
  readonly valuesOfPlot: readonly (readonly number[])[];
}

/** The interaction of two factors that stand in the same model, by their ids. */
export interface InteractionTerm {
  readonly kind: 'interaction';
  readonly id: string;
  readonly factors: readonly [string, string];
}

export type ModelTerm = FactorTerm | CovariateTerm | CovariatesTerm | InteractionTerm;
