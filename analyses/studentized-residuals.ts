import { tTwoSidedP } from './distributions/t.ts';
import type { LinearModelFit } from './linear-model.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface StudentizedResidual {
  readonly plot: number;
  readonly residual: number;
  /** Share of the plot's own value in its fitted value, 0 to 1. */
  readonly leverage: number;
  /**
   * Residual over its standard error, the error estimated without this plot; null where the plot alone sets its fit (then p
   * is null too), or where the other plots fit exactly (then p is 0).
   */
  readonly t: number | null;
  /** Of this plot, had it been named beforehand. */
  readonly pUnadjusted: number | null;
  /** Times the number of plots (Bonferroni): of the largest, chosen after looking. */
  readonly p: number | null;
}

export interface StudentizedResiduals {
  /** Error df - 1. */
  readonly df: number;
  readonly residuals: readonly StudentizedResidual[];
}

/** A leverage this near to 1 is 1: the residual is rounding. */
const FULL_LEVERAGE = 1 - 1e-9;
/** Without the plot the error loses residual^2 / (1 - leverage); less than this share left is rounding. */
const NO_ERROR_LEFT = 1e-13;

/**
 * Which plot does not go with the rest? Externally studentized residuals, each with its Bonferroni p.
 *
 * @param fit - of {@link LinearModelFit}
 * @returns one row a plot, or a refusal: `noErrorDf` when fewer than two are there, `noErrorVariation` for an exact fit
 * Source: R. D. Cook & S. Weisberg (1982) Residuals and Influence in Regression, section 2.2.
 */
export function studentizedResiduals(fit: LinearModelFit): StudentizedResiduals | Refusal {
  if (fit.error.df < 2) return refuse('noErrorDf', { errorDf: fit.error.df });
  if (fit.exactFit) return refuse('noErrorVariation', { errorDf: fit.error.df });
  const df = fit.error.df - 1;
  const leverages = fit.basis.leverages();
  const residuals = fit.residuals.map((residual, plot): StudentizedResidual => {
    const leverage = leverages[plot]!;
    if (leverage > FULL_LEVERAGE) return { plot, residual, leverage, t: null, pUnadjusted: null, p: null };
    const without = fit.error.ss - residual ** 2 / (1 - leverage);
    if (without <= NO_ERROR_LEFT * fit.error.ss)
      return { plot, residual, leverage, t: null, pUnadjusted: 0, p: 0 };
    const t = residual / Math.sqrt((without / df) * (1 - leverage));
    const pUnadjusted = tTwoSidedP(t, df);
    return { plot, residual, leverage, t, pUnadjusted, p: Math.min(1, fit.n * pUnadjusted) };
  });
  return { df, residuals };
}
