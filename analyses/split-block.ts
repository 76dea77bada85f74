import { incompleteTwoFactorBlocks } from './complete-two-factor-blocks.ts';
import { fUpperTail } from './distributions/f.ts';
import { fitLinearModel, type LinearModelFit } from './linear-model.ts';
import type { FactorTerm, InteractionTerm } from './model-terms.ts';
import { allPairs, type PairwiseDifference } from './pairwise-differences.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { Response } from './response.ts';
import { combinedErrors, type WeightedError } from './satterthwaite.ts';
import { cellPairs, differencesOfMeans, type TwoFactorMeans, twoFactorMeans } from './two-factor-means.ts';

export type SplitBlockSource =
  | 'block'
  | 'firstFactor'
  | 'firstError'
  | 'secondFactor'
  | 'secondError'
  | 'interaction'
  | 'interactionError';

export interface SplitBlockRow {
  readonly source: SplitBlockSource;
  readonly df: number;
  readonly ss: number;
  readonly ms: number;
  /** Each factor against its own error, the interaction against its; else null. */
  readonly f: number | null;
  readonly p: number | null;
}

export interface SplitBlock {
  readonly rows: readonly SplitBlockRow[];
  readonly total: LinearModelFit['total'];
  readonly grandMean: number;
  /** 100 sqrt(ms) / mean, of each error; null when the mean is not positive. */
  readonly cvFirstPercent: number | null;
  readonly cvSecondPercent: number | null;
  readonly cvInteractionPercent: number | null;
  readonly means: TwoFactorMeans;
  /** Rows of one kind share their standard error and df (Satterthwaite's where several errors enter). */
  readonly differences: {
    readonly first: readonly PairwiseDifference[];
    readonly second: readonly PairwiseDifference[];
    /** Cells at one level of the second factor: levels of the first compared. */
    readonly firstAtSecond: readonly PairwiseDifference[];
    readonly secondAtFirst: readonly PairwiseDifference[];
    readonly bothDiffer: readonly PairwiseDifference[];
  };
}

/**
 * The analysis of variance of a split block: strips of one factor laid across strips of another in every block.
 *
 * Each factor was randomised on whole strips, so each is judged against the variation of its own strips within blocks, and
 * the interaction against that of the pieces where strips cross; one error for all would claim too much for both factors.
 * Balanced only: every combination once in every block.
 *
 * @param response - one value a crossing
 * @param block - both sets of strips were randomised within these
 * @param first - on the strips one way
 * @param second - on the strips across
 * @returns the analysis, or a refusal: those of {@link fitLinearModel}; `tooFewTreatments` {term, levels}; `emptyCell` {block,
 * first, second, plots}; `noErrorDf` in one block; `noErrorVariation` when an error is exactly zero
 * Source: W. G. Cochran & G. M. Cox (1957) Experimental Designs, section 7.3; K. A. Gomez & A. A. Gomez (1984) Statistical
 * Procedures for Agricultural Research, 2nd ed., section 3.4.
 */
export function splitBlock(
  response: Response,
  block: FactorTerm,
  first: FactorTerm,
  second: FactorTerm,
): SplitBlock | Refusal {
  const unfit = incompleteTwoFactorBlocks(block, first, second, ['first', 'second']);
  if (unfit !== null) return unfit;
  const fit = fitLinearModel(response, [
    block,
    first,
    crossed(block, first),
    second,
    crossed(block, second),
    crossed(first, second),
  ]);
  if ('refused' in fit) return fit;
  const errors = errorsOf(fit);
  if (Object.values(errors).some((error) => error.ms === 0))
    return refuse('noErrorVariation', { firstErrorDf: errors.first.df, secondErrorDf: errors.second.df });
  const cv = (error: Line) => (fit.grandMean > 0 ? (100 * Math.sqrt(error.ms)) / fit.grandMean : null);
  const means = twoFactorMeans(response, first, second);
  return {
    rows: rowsOf(fit, errors),
    total: fit.total,
    grandMean: fit.grandMean,
    cvFirstPercent: cv(errors.first),
    cvSecondPercent: cv(errors.second),
    cvInteractionPercent: cv(errors.interaction),
    means,
    differences: differencesOf(means, errors, block.levelCount, first.levelCount, second.levelCount),
  };
}

interface Line {
  readonly df: number;
  readonly ss: number;
  readonly ms: number;
}

interface Errors {
  readonly first: Line;
  readonly second: Line;
  readonly interaction: Line;
}

function crossed(a: FactorTerm, b: FactorTerm): InteractionTerm {
  return { kind: 'interaction', id: `${a.id}:${b.id}`, factors: [a.id, b.id] };
}

function lineOf({ df, ss }: { readonly df: number; readonly ss: number }): Line {
  return { df, ss, ms: ss / df };
}

function errorsOf(fit: LinearModelFit): Errors {
  return { first: lineOf(fit.rows[2]!), second: lineOf(fit.rows[4]!), interaction: lineOf(fit.error) };
}

function rowsOf(fit: LinearModelFit, errors: Errors): SplitBlockRow[] {
  const untested = (source: SplitBlockSource, line: Line): SplitBlockRow => ({
    source,
    ...line,
    f: null,
    p: null,
  });
  const tested = (source: SplitBlockSource, line: Line, error: Line): SplitBlockRow => {
    const f = line.ms / error.ms;
    return { source, ...line, f, p: fUpperTail(f, line.df, error.df) };
  };
  return [
    untested('block', lineOf(fit.rows[0]!)),
    tested('firstFactor', lineOf(fit.rows[1]!), errors.first),
    untested('firstError', errors.first),
    tested('secondFactor', lineOf(fit.rows[3]!), errors.second),
    untested('secondError', errors.second),
    tested('interaction', lineOf(fit.rows[5]!), errors.interaction),
    untested('interactionError', errors.interaction),
  ];
}

/**
 * With r blocks, a and b levels: two cells differ by 2/r times the variances of what they do not share. Those of strips are
 * (error - interaction error) / pieces in a strip, which gives the weights below.
 */
function differencesOf(
  means: TwoFactorMeans,
  { first, second, interaction }: Errors,
  r: number,
  a: number,
  b: number,
): SplitBlock['differences'] {
  const pairs = cellPairs(a, b);
  const of = (...parts: readonly (readonly [number, Line])[]) =>
    combinedErrors(parts.map(([weight, line]): WeightedError => ({ weight: (2 / r) * weight, ...line })));
  const firstAtSecond = of([1 / b, first], [1 - 1 / b, interaction]);
  const secondAtFirst = of([1 / a, second], [1 - 1 / a, interaction]);
  const bothDiffer = of([1 / b, first], [1 / a, second], [1 - 1 / a - 1 / b, interaction]);
  return {
    first: differencesOfMeans(means.first, allPairs(a), of([1 / b, first])),
    second: differencesOfMeans(means.second, allPairs(b), of([1 / a, second])),
    firstAtSecond: differencesOfMeans(means.cells, pairs.sameSecond, firstAtSecond),
    secondAtFirst: differencesOfMeans(means.cells, pairs.sameFirst, secondAtFirst),
    bothDiffer: differencesOfMeans(means.cells, pairs.bothDiffer, bothDiffer),
  };
}
