import * as v from 'valibot';
import {
  blockingSchema,
  chancesSchema,
  cleaningsSchema,
  contrastSchema,
  differenceKindSchema,
  factorSchema,
  flatterySchema,
  leftOutBlockSchema,
  rankedPairsSchema,
  ratesSchema,
  replicatesForMarginSchema,
  transformationSchema,
  weighedSchema,
} from './further-results.ts';
import {
  comparisonSchema,
  count,
  counts,
  DIFFERENCE_VERDICTS,
  finite,
  MONEY_VERDICTS,
  meanSchema,
  numberOrNull,
  PROCEDURES,
  refusalSchema,
  textOrNull,
} from './report-pieces.ts';

/**
 * The report model: the contract between command line, screens and files. Its version moves when a field changes
 * its meaning or goes. What is unknown is null, never NaN and never left out; units stand beside numbers.
 *
 * Yields stand in the unit that the trial's unit system reads in (`unit` beside each response); lengths and areas
 * in m and m².
 */
export const REPORT_VERSION = 1;

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
