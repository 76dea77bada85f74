import { alphaRefusal } from './alpha.ts';
import { incompleteTwoFactorBlocks } from './complete-two-factor-blocks.ts';
import { fUpperTail } from './distributions/f.ts';
import { tUpperQuantile } from './distributions/t.ts';
import { fitLinearModel, type LinearModelFit } from './linear-model.ts';
import type { FactorTerm, ModelTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { Response } from './response.ts';
import { combinedErrors } from './satterthwaite.ts';

export type SplitPlotSource = 'block' | 'mainFactor' | 'mainError' | 'subFactor' | 'interaction' | 'subError';

export interface SplitPlotRow {
  readonly source: SplitPlotSource;
  readonly df: number;
  readonly ss: number;
  readonly ms: number;
  /** Against the main error for the main factor, the sub error for the sub factor and the interaction; else null. */
  readonly f: number | null;
  readonly p: number | null;
}

/** Standard error of a difference of two means, with the df and t it is judged by. */
export interface SplitPlotDifference {
  readonly standardError: number;
  /** Satterthwaite's where both errors enter. */
  readonly df: number;
  /** Two-sided at alpha; the errors' own t values weighted where both enter (Cochran & Cox). */
  readonly criticalValue: number;
  readonly lsd: number;
}

export interface SplitPlot {
  readonly alpha: number;
  readonly rows: readonly SplitPlotRow[];
  readonly total: LinearModelFit['total'];
  readonly grandMean: number;
  /** 100 sqrt(ms) / mean, of either error; null when the mean is not positive. */
  readonly cvMainPercent: number | null;
  readonly cvSubPercent: number | null;
  readonly differences: {
    /** Two levels of the main factor, over all sub levels. */
    readonly main: SplitPlotDifference;
    /** Two levels of the sub factor, over all main levels. */
    readonly sub: SplitPlotDifference;
    /** Two levels of the sub factor at one main level. */
    readonly subWithinMain: SplitPlotDifference;
    /** Two levels of the main factor at one sub level, or at different ones. */
    readonly mainAtSub: SplitPlotDifference;
  };
}

/**
 * The analysis of variance of a split plot in blocks: one factor on main plots, the other on sub-plots inside them.
 *
 * The main factor is judged against the variation of main plots within blocks, the sub factor and the interaction against
 * the variation of sub-plots; using one error for both is wrong in either direction. Balanced only: every combination once
 * in every block.
 *
 * @param response - one value a sub-plot
 * @param block - randomisation of main plots was within these
 * @param mainFactor - one level a main plot
 * @param subFactor - randomised within main plots
 * @param alpha - of the critical values, 0 < alpha <= 0.5
 * @returns the analysis, or a refusal: those of {@link fitLinearModel}; `alphaOutOfRange`; `tooFewTreatments` {term, levels};
 * `emptyCell` {block, mainFactor, subFactor, plots} for a combination that is there not exactly once; `noErrorDf` in one
 * block; `noErrorVariation` when either error is exactly zero
 * Source: F. Yates (1935) Suppl. J. R. Stat. Soc. 2:181-247; W. G. Cochran & G. M. Cox (1957) Experimental Designs, ch. 7.
 */
export function splitPlot(
  response: Response,
  block: FactorTerm,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
  alpha: number,
): SplitPlot | Refusal {
  const unfit =
    alphaRefusal(alpha) ??
    incompleteTwoFactorBlocks(block, mainFactor, subFactor, ['mainFactor', 'subFactor']);
  if (unfit !== null) return unfit;
  const fit = fitLinearModel(response, termsOf(block, mainFactor, subFactor));
  if ('refused' in fit) return fit;
  const lines = fit.rows.map((row) => ({ df: row.df, ss: row.ss, ms: row.ss / row.df }));
  const [blocks, main, mainError, sub, interaction] = lines as [Line, Line, Line, Line, Line];
  const subError = { df: fit.error.df, ss: fit.error.ss, ms: fit.error.ss / fit.error.df };
  if (mainError.ms === 0 || subError.ms === 0)
    return refuse('noErrorVariation', { mainErrorDf: mainError.df, subErrorDf: subError.df });
  const cv = (ms: number) => (fit.grandMean > 0 ? (100 * Math.sqrt(ms)) / fit.grandMean : null);
  return {
    alpha,
    rows: [
      untested('block', blocks),
      tested('mainFactor', main, mainError),
      untested('mainError', mainError),
      tested('subFactor', sub, subError),
      tested('interaction', interaction, subError),
      untested('subError', subError),
    ],
    total: fit.total,
    grandMean: fit.grandMean,
    cvMainPercent: cv(mainError.ms),
    cvSubPercent: cv(subError.ms),
    differences: differencesOf(mainError, subError, block, mainFactor, subFactor, alpha),
  };
}

interface Line {
  readonly df: number;
  readonly ss: number;
  readonly ms: number;
}

function termsOf(block: FactorTerm, mainFactor: FactorTerm, subFactor: FactorTerm): ModelTerm[] {
  return [
    block,
    mainFactor,
    { kind: 'interaction', id: `${block.id}:${mainFactor.id}`, factors: [block.id, mainFactor.id] },
    subFactor,
    { kind: 'interaction', id: `${mainFactor.id}:${subFactor.id}`, factors: [mainFactor.id, subFactor.id] },
  ];
}

function tested(source: SplitPlotSource, line: Line, error: Line): SplitPlotRow {
  const f = line.ms / error.ms;
  return { source, ...line, f, p: fUpperTail(f, line.df, error.df) };
}

function untested(source: SplitPlotSource, line: Line): SplitPlotRow {
  return { source, ...line, f: null, p: null };
}

function differencesOf(
  mainError: Line,
  subError: Line,
  block: FactorTerm,
  mainFactor: FactorTerm,
  subFactor: FactorTerm,
  alpha: number,
): SplitPlot['differences'] {
  const [r, a, b] = [block.levelCount, mainFactor.levelCount, subFactor.levelCount];
  const t = (df: number) => tUpperQuantile(alpha / 2, df);
  const difference = (variance: number, df: number, criticalValue: number): SplitPlotDifference => {
    const standardError = Math.sqrt(variance);
    return { standardError, df, criticalValue, lsd: criticalValue * standardError };
  };
  const ofSub = (b - 1) * subError.ms;
  const both = ofSub + mainError.ms;
  const { df: satterthwaite } = combinedErrors([
    { weight: b - 1, ...subError },
    { weight: 1, ...mainError },
  ]);
  const weighted = (ofSub * t(subError.df) + mainError.ms * t(mainError.df)) / both;
  return {
    main: difference((2 * mainError.ms) / (r * b), mainError.df, t(mainError.df)),
    sub: difference((2 * subError.ms) / (r * a), subError.df, t(subError.df)),
    subWithinMain: difference((2 * subError.ms) / r, subError.df, t(subError.df)),
    mainAtSub: difference((2 * both) / (r * b), satterthwaite, weighted),
  };
}
