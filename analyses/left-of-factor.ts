import { orthogonalBasis } from './householder.ts';
import { columnsOfTerm } from './model-columns.ts';
import type { CovariatesTerm, FactorTerm } from './model-terms.ts';

/** What other factors leave of a factor. */
export interface LeftOfFactor {
  /** Df of the factor, and how many of them are its own; with 0 the others tell all of it. */
  readonly df: number;
  readonly estimableDf: number;
  /** The part of the factor that the others do not tell, under the factor's id; null where nothing is left. */
  readonly term: CovariatesTerm | null;
}

/**
 * How much of a factor can be told beside others, which it may be partly confounded with (machines of which one cut whole
 * blocks by itself), and that much as a term of the model.
 *
 * Definition: the factor's columns freed of the constant and the others, as many of them as are independent. The model
 * spans the same space as with the factor itself, so sums of squares, error and every difference that can be told at all
 * are the same; what the factor shares with the others stays with the others. The term averages zero at each of their
 * levels: adjusted means are then averaged over levels of the others, each at its own mixture of the factor's levels.
 *
 * @param factor - levels as in {@link FactorTerm}
 * @param others - on the same plots
 * Source: G. A. F. Seber & A. J. Lee (2003) Linear Regression Analysis, 2nd ed., section 3.9 (less than full rank).
 */
export function leftOfFactor(factor: FactorTerm, others: readonly FactorTerm[]): LeftOfFactor {
  const ones = new Array<number>(factor.levelOfPlot.length).fill(1);
  const before = [ones, ...others.flatMap((other) => columnsOfTerm(other, others))];
  const own = columnsOfTerm(factor, [factor]);
  const dependent = new Set(orthogonalBasis([...before, ...own]).dependent);
  const independent = own.filter((_, column) => !dependent.has(before.length + column));
  const basis = orthogonalBasis(before);
  const valuesOfPlot = independent.map((column) => [...basis.remainder(column)]);
  const term: CovariatesTerm = { kind: 'covariates', id: factor.id, valuesOfPlot };
  return {
    df: own.length,
    estimableDf: independent.length,
    term: independent.length === 0 ? null : term,
  };
}
