import * as v from 'valibot';

/**
 * The report model: the contract between command line, screens and files. Its version moves when a field changes
 * its meaning or goes. What is unknown is null, never NaN and never left out; units stand beside numbers.
 *
 * Yields stand in the unit that the trial's unit system reads in (`unit` beside each response); lengths and areas
 * in m and m².
 */
export const REPORT_VERSION = 1;

const finite = v.pipe(v.number(), v.finite());
const count = v.pipe(v.number(), v.integer(), v.minValue(0));
const numberOrNull = v.nullable(finite);
const textOrNull = v.nullable(v.string());
/** Figures that a sentence was made from; kept so that a reader of the model need not parse words. */
const counts = v.record(v.string(), count);

export const SOURCES = [
  'treatment',
  'block',
  'row',
  'column',
  'factorA',
  'factorB',
  'factorA:factorB',
  'machine',
  'covariate',
  'trend',
  'mainError',
  'error',
  'total',
] as const;

export const DESIGNS = [
  'randomizedCompleteBlocks',
  'incompleteBlocks',
  'completelyRandomized',
  'latinSquare',
  'splitPlot',
] as const;

export const PROCEDURES = ['lsd', 'tukey', 'dunnett', 'bonferroni', 'holm', 'paired', 'contrast'] as const;

export const DIFFERENCE_VERDICTS = [
  'Real',
  'Same for practical purposes',
  'Real, but smaller than matters',
  'Not settled',
] as const;

export const MONEY_VERDICTS = ['Pays', 'Does not pay', 'May pay'] as const;

export const reportProblemSchema = v.strictObject({
  code: v.string(),
  severity: v.picklist(['error', 'warning', 'note']),
  file: textOrNull,
  row: v.nullable(count),
  column: textOrNull,
  message: v.string(),
  whatToDo: v.string(),
});

const lateChangeSchema = v.strictObject({ path: v.string(), before: v.string(), now: v.string() });

export const reportTrialSchema = v.strictObject({
  name: v.string(),
  crop: textOrNull,
  design: v.nullable(
    v.picklist(['randomizedCompleteBlocks', 'completelyRandomized', 'latinSquare', 'splitPlot']),
  ),
  unitSystem: v.nullable(v.picklist(['metric', 'us'])),
  /** One entry a file that was read: its name, what it was read as, SHA-256 of its bytes in hexadecimal. */
  files: v.array(
    v.strictObject({
      name: v.string(),
      role: v.picklist(['trial', 'layout', 'points', 'hand', 'table', 'application']),
      sha256: v.string(),
    }),
  ),
  /** Every setting that shaped the figures, by its path in the trial document, as JSON text. */
  settings: v.record(v.string(), v.string()),
  /** In plain words: what was taken for granted because nobody said otherwise. */
  assumptions: v.array(v.string()),
  changedAfterSeeing: v.array(lateChangeSchema),
});

/** One value of one response on one strip; null where it was not measured or the strip was lost. */
const stripValueSchema = v.strictObject({ response: v.string(), value: numberOrNull, unit: textOrNull });

export const reportStripSchema = v.strictObject({
  strip: v.string(),
  block: textOrNull,
  treatment: v.string(),
  place: numberOrNull,
  /** Of the strip's polygon. */
  areaM2: numberOrNull,
  /** Ground that the kept points or the hand harvest stand for. */
  harvestedAreaM2: numberOrNull,
  values: v.array(stripValueSchema),
  pointsRead: v.nullable(count),
  pointsKept: v.nullable(count),
  pointsSetAside: counts,
  /** Sub-samples: points or hand samples averaged into the value. */
  subSamples: v.nullable(count),
  /** CV of the kept points or samples within the strip: shown, never used as error. */
  cvWithinPercent: numberOrNull,
  used: v.boolean(),
  whyNotUsed: textOrNull,
});

export const anovaRowSchema = v.strictObject({
  source: v.picklist(SOURCES),
  label: v.string(),
  df: count,
  ss: numberOrNull,
  ms: numberOrNull,
  f: numberOrNull,
  p: numberOrNull,
});

export const meanSchema = v.strictObject({
  treatment: v.string(),
  n: count,
  mean: finite,
  /** Equal to `mean` where every block holds every treatment. */
  adjustedMean: finite,
  standardError: numberOrNull,
  lower: numberOrNull,
  upper: numberOrNull,
  /** Letters by procedure; treatments that share a letter are not told apart by it. */
  letters: v.record(v.string(), v.string()),
});

export const comparisonSchema = v.strictObject({
  a: v.string(),
  b: v.string(),
  /** a - b. */
  difference: finite,
  standardError: numberOrNull,
  df: numberOrNull,
  t: numberOrNull,
  /** Adjusted by the procedure. */
  p: numberOrNull,
  pUnadjusted: numberOrNull,
  lower: numberOrNull,
  upper: numberOrNull,
  procedure: v.picklist(PROCEDURES),
});

export const decidedBySchema = v.strictObject({
  procedure: v.picklist([...PROCEDURES, 't', 'protectedLsd']),
  why: v.string(),
  /** Chance that at least one comparison of equal products is called Real; null where it cannot be computed. */
  chanceOfOneFalseReal: numberOrNull,
});

const testFields = {
  /** A fixed word for what was tested; sentences may change, this does not. */
  id: v.string(),
  what: v.string(),
  /** "W", "F", "chi-squared" ...; null where no statistic is reckoned. */
  statisticName: textOrNull,
  statistic: numberOrNull,
  p: numberOrNull,
  meaning: v.string(),
  whatToDo: v.string(),
} as const;

/** A check of what the analysis takes for granted. `statistic` and `p` are null where the data cannot carry it. */
export const checkSchema = v.strictObject({
  ...testFields,
  /** p below .05; null where it was not tested. */
  inDoubt: v.nullable(v.boolean()),
});

/** A test on other grounds, ranks or the randomisation alone, beside the deciding one. */
export const agreementSchema = v.strictObject({
  ...testFields,
  /** It falls on the other side of alpha than the analysis of variance; null where it was not tested. */
  inDoubt: v.nullable(v.boolean()),
  /** No values in this design could give a smaller p. */
  smallestP: numberOrNull,
  /** Arrangements looked at, for randomization tests. */
  arrangements: v.nullable(count),
  /** All arrangements, or drawn ones; null for tests that count none. */
  exact: v.nullable(v.boolean()),
  /** Monte Carlo error of p; 0 when exact. */
  standardErrorOfP: numberOrNull,
  /** Of the generator, where arrangements were drawn. */
  seed: v.nullable(count),
});

export const answerSchema = v.strictObject({
  a: v.string(),
  b: v.string(),
  difference: v.nullable(v.picklist(DIFFERENCE_VERDICTS)),
  money: v.nullable(v.picklist(MONEY_VERDICTS)),
  /** a - b, with the deciding procedure's interval. */
  estimate: finite,
  interval: v.strictObject({
    lower: numberOrNull,
    upper: numberOrNull,
    level: finite,
    procedure: v.string(),
  }),
  /** Interval at 1 - 2 alpha for the two one-sided tests, and the margin it is held against. */
  equivalence: v.strictObject({
    lower: numberOrNull,
    upper: numberOrNull,
    margin: numberOrNull,
    p: numberOrNull,
  }),
  /** One line each, in plain words. */
  differenceSentence: v.string(),
  moneySentence: v.string(),
  /** What a grower reads: both statements as prose. */
  sentence: v.string(),
  reasons: v.array(v.string()),
  weakens: v.array(v.string()),
  wouldSettle: v.array(v.string()),
});

export const economicsRowSchema = v.strictObject({
  a: v.string(),
  b: v.string(),
  /** Difference in the response's unit at which a earns what it costs more than b. */
  breakEven: numberOrNull,
  extraCost: numberOrNull,
  netReturn: numberOrNull,
  netReturnLower: numberOrNull,
  netReturnUpper: numberOrNull,
  moneyUnit: v.string(),
  /** What is not known, where a figure is null. */
  missing: v.array(v.string()),
});

export const refusalSchema = v.strictObject({
  code: v.string(),
  message: v.string(),
  whatWouldHelp: v.string(),
});

/** Means and comparisons of one of two factors, over the levels of the other. `treatment` holds the factor's level. */
const factorSchema = v.strictObject({
  source: v.picklist(['factorA', 'factorB']),
  label: v.string(),
  means: v.array(meanSchema),
  comparisons: v.array(comparisonSchema),
  standardErrorOfDifference: numberOrNull,
  lsd: v.strictObject({ alpha: finite, df: numberOrNull, value: numberOrNull }),
});

/** Split plots: each kind of difference has its own standard error, df and t. */
const differenceKindSchema = v.strictObject({
  kind: v.picklist(['factorA', 'factorB', 'factorBWithinA', 'factorAAtB']),
  label: v.string(),
  standardError: finite,
  df: finite,
  criticalValue: finite,
  lsd: finite,
});

/** A weighted sum of means, named by the user; p and interval are its own. */
const contrastSchema = v.strictObject({
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
const ratesSchema = v.strictObject({
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
const transformationSchema = v.strictObject({
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
const leftOutBlockSchema = v.strictObject({
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
const chancesSchema = v.strictObject({
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
const flatterySchema = v.strictObject({
  best: v.string(),
  of: count,
  /** In the response's unit. */
  expected: finite,
  percentOfMean: numberOrNull,
  meaning: v.string(),
});

/** Blocks, or strips a treatment without blocks, that would find a difference as large as the margin. */
const replicatesForMarginSchema = v.strictObject({
  margin: finite,
  replicates: v.nullable(count),
  power: finite,
  /** Of one comparison: where several are guarded, the level shared among them. */
  alpha: finite,
  meaning: v.string(),
});

/** What the blocks brought, in complete ones. */
const blockingSchema = v.strictObject({
  /** So many times the strips a trial without blocks would have needed. */
  relativeEfficiency: finite,
  /** The same, less what the blocks cost in error df. */
  adjustedForDf: finite,
  meaning: v.string(),
});

/** Pairs of treatments by their rank sums over complete blocks, guarded together. */
const rankedPairsSchema = v.strictObject({
  /** Rank sums further apart differ at alpha. */
  leastDifference: finite,
  pairs: v.array(v.strictObject({ a: v.string(), b: v.string(), difference: finite, p: finite })),
  meaning: v.string(),
});

/** What other reasonable ways of screening the points would have said; null beside other data, or where not tried. */
const cleaningsSchema = v.strictObject({
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

export const responseSchema = v.strictObject({
  name: v.string(),
  unit: textOrNull,
  design: v.picklist(DESIGNS),
  better: v.picklist(['higher', 'lower']),
  alpha: finite,
  refusal: v.nullable(refusalSchema),
  anova: v.array(anovaRowSchema),
  grandMean: numberOrNull,
  cvPercent: numberOrNull,
  standardErrorOfMean: numberOrNull,
  standardErrorOfDifference: numberOrNull,
  lsd: v.strictObject({ alpha: finite, df: numberOrNull, value: numberOrNull }),
  means: v.array(meanSchema),
  comparisons: v.array(comparisonSchema),
  decidedBy: v.nullable(decidedBySchema),
  checks: v.array(checkSchema),
  agreement: v.array(agreementSchema),
  detectable: v.nullable(
    v.strictObject({ difference: finite, lower: numberOrNull, upper: numberOrNull, power: finite }),
  ),
  answers: v.array(answerSchema),
  economics: v.array(economicsRowSchema),
  /** The verdicts without each block in turn; empty where there are fewer than three blocks, or very many. */
  leaveOneBlockOut: v.array(leftOutBlockSchema),
  chances: v.nullable(chancesSchema),
  flattery: v.nullable(flatterySchema),
  replicatesForMargin: v.nullable(replicatesForMarginSchema),
  /** Two, where treatments are combinations of two factors; else none. */
  factors: v.array(factorSchema),
  /** Four, for a split plot; else none. */
  differenceKinds: v.array(differenceKindSchema),
  transformation: v.nullable(transformationSchema),
  contrasts: v.array(contrastSchema),
  /** null where the response to a rate was not asked for. */
  rates: v.nullable(ratesSchema),
  cleanings: v.nullable(cleaningsSchema),
  blocking: v.nullable(blockingSchema),
  rankedPairs: v.nullable(rankedPairsSchema),
});

/** Scale beside monitor, over the same passes before any screen; yields in the unit of the trial. */
const weighedSchema = v.strictObject({
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

export const reportModelSchema = v.strictObject({
  /** Of this contract. */
  version: v.literal(REPORT_VERSION),
  /** Of the program that made it. */
  madeBy: v.string(),
  trial: reportTrialSchema,
  problems: v.array(reportProblemSchema),
  strips: v.array(reportStripSchema),
  responses: v.array(responseSchema),
  /** null where nothing was weighed beside a yield monitor. */
  weighed: v.nullable(weighedSchema),
});

export type ReportModel = v.InferOutput<typeof reportModelSchema>;
export type ReportProblem = v.InferOutput<typeof reportProblemSchema>;
export type ReportTrial = v.InferOutput<typeof reportTrialSchema>;
export type ReportStrip = v.InferOutput<typeof reportStripSchema>;
export type ReportResponse = v.InferOutput<typeof responseSchema>;
export type ReportMean = v.InferOutput<typeof meanSchema>;
export type ReportComparison = v.InferOutput<typeof comparisonSchema>;
export type ReportCheck = v.InferOutput<typeof checkSchema>;
export type ReportAgreement = v.InferOutput<typeof agreementSchema>;
export type ReportAnswer = v.InferOutput<typeof answerSchema>;
export type ReportEconomics = v.InferOutput<typeof economicsRowSchema>;
export type AnovaSource = (typeof SOURCES)[number];
export type ReportProcedure = (typeof PROCEDURES)[number];
export type DifferenceVerdict = (typeof DIFFERENCE_VERDICTS)[number];
export type MoneyVerdict = (typeof MONEY_VERDICTS)[number];
