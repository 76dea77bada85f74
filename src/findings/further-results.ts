import * as v from 'valibot';
import {
  comparisonSchema,
  count,
  DIFFERENCE_VERDICTS,
  finite,
  MONEY_VERDICTS,
  meanSchema,
  numberOrNull,
  refusalSchema,
  textOrNull,
} from './report-pieces.ts';

/** What a report holds of a response, or of the trial, beside the analysis itself: each only where it applies. */
/** Means and comparisons of one of two factors, over the levels of the other. `treatment` holds the factor's level. */
export const factorSchema = v.strictObject({
  source: v.picklist(['factorA', 'factorB']),
  label: v.string(),
  means: v.array(meanSchema),
  comparisons: v.array(comparisonSchema),
  standardErrorOfDifference: numberOrNull,
  lsd: v.strictObject({ alpha: finite, df: numberOrNull, value: numberOrNull }),
});

/** Split plots: each kind of difference has its own standard error, df and t. */
export const differenceKindSchema = v.strictObject({
  kind: v.picklist(['factorA', 'factorB', 'factorBWithinA', 'factorAAtB']),
  label: v.string(),
  standardError: finite,
  df: finite,
  criticalValue: finite,
  lsd: finite,
});

/** A weighted sum of means, named by the user; p and interval are its own. */
export const contrastSchema = v.strictObject({
  weights: v.array(v.strictObject({ treatment: v.string(), weight: finite })),
  estimate: finite,
  standardError: finite,
  df: finite,
  t: finite,
  p: finite,
  lower: finite,
  upper: finite,
  /** On one degree of freedom, against the error of the analysis. */
  ss: finite,
});

const rateCoefficientSchema = v.strictObject({
  estimate: finite,
  standardError: finite,
  t: finite,
  p: finite,
  lower: finite,
  upper: finite,
});

/** How the response follows a rate. `refusal` says why not; then the rest is null. */
export const ratesSchema = v.strictObject({
  refusal: v.nullable(refusalSchema),
  lowestRate: numberOrNull,
  highestRate: numberOrNull,
  lines: v.array(
    v.strictObject({
      source: v.picklist(['linear', 'quadratic', 'lackOfFit']),
      df: count,
      ss: finite,
      ms: finite,
      f: finite,
      p: finite,
    }),
  ),
  /** Response per unit of rate, of the straight line. */
  slope: v.nullable(rateCoefficientSchema),
  /** Per unit of rate squared. */
  curvature: v.nullable(rateCoefficientSchema),
  /** The rate of the best response (highest), where the data show one inside the rates tried. */
  best: v.nullable(
    v.strictObject({
      rate: numberOrNull,
      lower: numberOrNull,
      upper: numberOrNull,
      response: numberOrNull,
      refusal: v.nullable(refusalSchema),
    }),
  ),
});

/** The response was analysed on another scale; means and ratios brought back to the one people read. */
export const transformationSchema = v.strictObject({
  kind: v.picklist(['squareRoot', 'log', 'angular']),
  /** Added before the square root is taken. */
  offset: finite,
  /** Of the response as people read it. */
  unit: textOrNull,
  means: v.array(
    v.strictObject({ treatment: v.string(), mean: finite, lower: numberOrNull, upper: numberOrNull }),
  ),
  /** Mean of a over mean of b, with the deciding interval; for logarithms alone. */
  ratios: v.array(
    v.strictObject({ a: v.string(), b: v.string(), ratio: finite, lower: numberOrNull, upper: numberOrNull }),
  ),
  meaning: v.string(),
});

/** The verdicts once more without one block. */
export const leftOutBlockSchema = v.strictObject({
  block: v.string(),
  /** Why the rest cannot be analysed; then there are no comparisons. */
  refusal: textOrNull,
  comparisons: v.array(
    v.strictObject({
      a: v.string(),
      b: v.string(),
      estimate: finite,
      lower: numberOrNull,
      upper: numberOrNull,
      difference: v.nullable(v.picklist(DIFFERENCE_VERDICTS)),
      money: v.nullable(v.picklist(MONEY_VERDICTS)),
    }),
  ),
  /** Whether any verdict differs from that of the whole trial. */
  changes: v.boolean(),
});

/** From the t posterior under a flat prior; decides nothing. */
export const chancesSchema = v.strictObject({
  best: v.array(v.strictObject({ treatment: v.string(), chance: finite })),
  comparisons: v.array(
    v.strictObject({
      a: v.string(),
      b: v.string(),
      /** That a truly is better than b. */
      better: finite,
      breakEven: numberOrNull,
      /** That a truly brings more over b than it costs; null where break-even is not known. */
      beatsBreakEven: numberOrNull,
    }),
  ),
  /** Monte Carlo error of the chances of being best, at most; the others are exact. */
  standardError: finite,
  draws: count,
  seed: count,
  meaning: v.string(),
});

/** How far chance alone would lift the best of several alike treatments. */
export const flatterySchema = v.strictObject({
  best: v.string(),
  of: count,
  /** In the response's unit. */
  expected: finite,
  percentOfMean: numberOrNull,
  meaning: v.string(),
});

/** Blocks, or strips a treatment without blocks, that would find a difference as large as the margin. */
export const replicatesForMarginSchema = v.strictObject({
  margin: finite,
  replicates: v.nullable(count),
  power: finite,
  /** Of one comparison: where several are guarded, the level shared among them. */
  alpha: finite,
  meaning: v.string(),
});

/** What the blocks brought, in complete ones. */
export const blockingSchema = v.strictObject({
  /** So many times the strips a trial without blocks would have needed. */
  relativeEfficiency: finite,
  /** The same, less what the blocks cost in error df. */
  adjustedForDf: finite,
  meaning: v.string(),
});

/** Pairs of treatments by their rank sums over complete blocks, guarded together. */
export const rankedPairsSchema = v.strictObject({
  /** Rank sums further apart differ at alpha. */
  leastDifference: finite,
  pairs: v.array(v.strictObject({ a: v.string(), b: v.string(), difference: finite, p: finite })),
  meaning: v.string(),
});

/** What other reasonable ways of screening the points would have said; null beside other data, or where not tried. */
export const cleaningsSchema = v.strictObject({
  tried: count,
  /** Those that left enough strips for a verdict. */
  judged: count,
  comparisons: v.array(
    v.strictObject({
      a: v.string(),
      b: v.string(),
      /** The verdicts under the trial's own cleaning. */
      difference: v.nullable(v.picklist(DIFFERENCE_VERDICTS)),
      money: v.nullable(v.picklist(MONEY_VERDICTS)),
      /** Of the differences a - b over all that were judged. */
      least: finite,
      most: finite,
      differenceFlips: count,
      moneyFlips: count,
    }),
  ),
  meaning: v.string(),
});

/** Scale beside monitor, over the same passes before any screen; yields in the unit of the trial. */
export const weighedSchema = v.strictObject({
  unit: v.string(),
  loads: v.array(
    v.strictObject({
      strips: v.array(v.string()),
      treatments: v.array(v.string()),
      /** What the load can tell: one strip's yield, the sum of strips of a treatment, or the monitor's level alone. */
      use: v.picklist(['strip', 'sumOfTreatment', 'level']),
      monitor: finite,
      scale: finite,
      /** Monitor over scale. */
      ratio: numberOrNull,
    }),
  ),
  /** What strips without a weight of their own were multiplied by. */
  levelFactor: numberOrNull,
  /** Of the ratios of single strips between treatments, by the trial's own design. */
  ratioP: numberOrNull,
  meaning: v.string(),
});
