import { type CommonFactors, commonFactors } from './common-factors.ts';
import type { Sides } from './dunnett-distribution.ts';
import { factoredMaximum } from './factored-maximum.ts';
import { MOST_VARIABLES, sphericalCorrection } from './spherical-correction.ts';
import { type StudentizedDistribution, studentize } from './studentized-tail.ts';

/** A {@link StudentizedDistribution} with the absolute error that its tails may carry. */
export interface MultivariateTMaximum extends StudentizedDistribution {
  readonly error: number;
}

export const MOST_COMPARISONS = MOST_VARIABLES;

/** Factors that leave less of any correlation move no tail by more than 1e-8. */
const CARRIED_BY_FACTORS = 1e-7;
const ERROR_OF_FACTORS = 1e-8;
/** Where the correction's error is read: about the critical values of use. */
const ERROR_AT = [1.5, 2, 2.5, 3];

/**
 * The largest of several studentized differences with any correlations: the maximum of a multivariate t.
 *
 * P(max |T_i| > q), or P(max T_i > q) for one side. Where two common factors carry the correlations (differences from a
 * check up to five comparisons, and any number with one covariate and no lost strip), by integration over the factors;
 * what they leave is added by a fixed lattice over directions, whose error is stated in `error`: about 1e-5 for the
 * designs that strip trials give, up to 6e-4 for matrices far from any two factors (all pairs of five means).
 *
 * @param correlation - k x k, symmetric, ones on the diagonal, positive semidefinite, 1 to 12 variables
 * @param df - of the error, > 0; Infinity for a known error
 * @throws RangeError for another number of variables, a matrix not of that kind, or df not positive
 * Source: C. W. Dunnett & M. Sobel (1955) Biometrika 42:258-260 (products); A. Genz & F. Bretz (2009) Computation of
 * Multivariate Normal and t Probabilities, ch. 2 to 4.
 */
export function multivariateTMaximum(
  correlation: readonly (readonly number[])[],
  df: number,
  sides: Sides,
): MultivariateTMaximum {
  requireCorrelation(correlation);
  if (!(df > 0)) throw new RangeError(`multivariateTMaximum: df must be positive, got ${df}`);
  const factors = commonFactors(correlation);
  const added =
    factors.largestResidual <= CARRIED_BY_FACTORS ? null : correction(correlation, factors, sides);
  const nearTail = factoredMaximum(factors, sides);
  const tailOfW = (w: number) => {
    const near = nearTail(w);
    return added === null ? near : Math.min(1, Math.max(near * LEAST_SHARE, near + added.differenceAt(w)));
  };
  const { upperTail, upperQuantile } = studentize(tailOfW, df);
  const belowZero = studentize((w) => tailOfW(-w), df);
  const atZero = sides === 'two' ? 1 : tailOfW(0);
  return {
    error: added === null ? ERROR_OF_FACTORS : Math.max(...ERROR_AT.map((w) => added.errorAt(w))),
    upperTail: (q) => {
      if (Number.isNaN(q) || (sides === 'two' && q < 0))
        throw new RangeError(
          `multivariateTMaximum: q must be at least 0, or any number on one side, got ${q}`,
        );
      if (q === 0) return atZero;
      if (q < 0) return belowZero.upperTail(-q);
      return q === Number.POSITIVE_INFINITY ? 0 : upperTail(q);
    },
    upperQuantile: (p) => {
      if (!(p > 0 && p < atZero))
        throw new RangeError(`multivariateTMaximum: p must lie in (0, ${atZero}), got ${p}`);
      return upperQuantile(p);
    },
  };
}

/** Far out, where the correction is mostly its own error, the tail of the near matrix sets the scale. */
const LEAST_SHARE = 0.01;

function correction(correlation: readonly (readonly number[])[], factors: CommonFactors, sides: Sides) {
  const near = factors.loadings.map(([a, b], i) =>
    factors.loadings.map(([c, d], j) => (i === j ? 1 : a * c + b * d)),
  );
  return sphericalCorrection(correlation, near, sides);
}

function requireCorrelation(correlation: readonly (readonly number[])[]): void {
  const k = correlation.length;
  if (k < 1 || k > MOST_COMPARISONS)
    throw new RangeError(`multivariateTMaximum: expected 1 to ${MOST_COMPARISONS} variables, got ${k}`);
  const sound = correlation.every(
    (row, i) =>
      row.length === k &&
      row.every((rho, j) =>
        i === j ? Math.abs(rho - 1) < 1e-9 : Math.abs(rho) <= 1 && rho === correlation[j]?.[i],
      ),
  );
  if (!sound) throw new RangeError('multivariateTMaximum: expected a symmetric correlation matrix');
}
