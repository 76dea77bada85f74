import * as v from 'valibot';

/** What all parts of the report model are made of. */
export const finite = v.pipe(v.number(), v.finite());
export const count = v.pipe(v.number(), v.integer(), v.minValue(0));
export const numberOrNull = v.nullable(finite);
export const textOrNull = v.nullable(v.string());
/** Figures that a sentence was made from; kept so that a reader of the model need not parse words. */
export const counts = v.record(v.string(), count);

export const PROCEDURES = ['lsd', 'tukey', 'dunnett', 'bonferroni', 'holm', 'paired', 'contrast'] as const;

export const DIFFERENCE_VERDICTS = [
  'Real',
  'Same for practical purposes',
  'Real, but smaller than matters',
  'Not settled',
] as const;

export const MONEY_VERDICTS = ['Pays', 'Does not pay', 'May pay'] as const;

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

export const refusalSchema = v.strictObject({
  code: v.string(),
  message: v.string(),
  whatWouldHelp: v.string(),
});
