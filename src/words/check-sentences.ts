import { pPhrase, significant } from './number-formats.ts';

/** Checks of what the analysis takes for granted: one plain sentence each, and what to do. */

export const CHECK_IDS = [
  'sensitivity',
  'normality',
  'normalityOfDifferences',
  'equalVariances',
  'equalVariancesSturdy',
  'equalVariancesOfPair',
  'additivity',
  'outlyingStrip',
  'trendAcrossField',
] as const;

export type CheckId = (typeof CHECK_IDS)[number];

interface CheckWords {
  readonly what: string;
  readonly statisticName: string;
  readonly fine: string;
  readonly doubt: string;
  readonly whenInDoubt: string;
  /** What it does to the answers, for the list of what weakens them. */
  readonly consequence?: string;
}

export const NOTHING_TO_DO = 'Nothing to do.';

const WORDS: Readonly<Record<Exclude<CheckId, 'sensitivity'>, CheckWords>> = {
  normality: {
    what: 'Normal errors (Shapiro-Wilk on residuals)',
    statisticName: 'W',
    fine: 'the residuals look like a sample from a normal distribution',
    doubt: 'the residuals do not look normal',
    whenInDoubt:
      'Look for a strip that does not go with the rest; see whether the rank and randomization tests agree; counts and percentages may want a transformation.',
  },
  normalityOfDifferences: {
    what: 'Normal differences (Shapiro-Wilk on the differences within blocks)',
    statisticName: 'W',
    fine: 'the differences within blocks look like a sample from a normal distribution',
    doubt: 'the differences within blocks do not look normal',
    whenInDoubt:
      'Look for a block that does not go with the rest; see whether the signed-rank and sign-flip tests agree.',
  },
  equalVariances: {
    what: 'Equal variances (Bartlett on residuals by treatment)',
    statisticName: 'chi-squared',
    fine: 'the treatments vary alike',
    doubt: 'some treatments vary more than others',
    consequence:
      'one error then serves treatments that do not share it, and differences with the less even ones are called real too often (in simulations up to 21 times in 100 at level 0.05, where one treatment, the check, varied three times as much)',
    whenInDoubt:
      'Bartlett is misled where errors are not normal: see whether Brown-Forsythe says the same. If spread grows with the mean, a logarithm or square root may serve; see the paired comparisons, which rest on each pair’s own differences.',
  },
  equalVariancesSturdy: {
    what: 'Equal variances (Brown-Forsythe on residuals by treatment)',
    statisticName: 'F',
    fine: 'the treatments vary alike',
    doubt: 'some treatments vary more than others',
    consequence:
      'one error then serves treatments that do not share it, and differences with the less even ones are called real too often (in simulations up to 21 times in 100 at level 0.05, where one treatment, the check, varied three times as much)',
    whenInDoubt:
      'If spread grows with the mean, a logarithm or square root may serve; see the paired comparisons, which rest on each pair’s own differences.',
  },
  equalVariancesOfPair: {
    what: 'Equal variances (Pitman-Morgan on the pairs)',
    statisticName: 't',
    fine: 'the two treatments vary alike',
    doubt: 'one treatment varies more than the other',
    whenInDoubt:
      'The test of their difference stands, since it works on the differences; say that one treatment is less even.',
  },
  additivity: {
    what: "Blocks and treatments add up (Tukey's one degree of freedom)",
    statisticName: 'F',
    fine: 'treatments differ by as much in good blocks as in poor ones, as far as can be seen',
    doubt: 'treatments differ by more where the block is better, or by less',
    whenInDoubt: 'Try the analysis on logarithms, chosen for this reason and said so.',
  },
  outlyingStrip: {
    what: 'Outlying strip (largest externally studentised residual, Bonferroni)',
    statisticName: 't',
    fine: 'no strip stands out from the rest',
    doubt: 'one strip does not go with the rest',
    whenInDoubt:
      'Look for its cause in the field notes; leave it out only for a cause that has nothing to do with its value, and show the answer with and without it.',
  },
  trendAcrossField: {
    what: 'Trend across the field (residuals against place)',
    statisticName: 'F',
    fine: 'no straight trend across the field is left in the residuals',
    doubt: 'a trend across the field is left in the residuals',
    whenInDoubt:
      'Where treatments were randomised the answer stands but is less sharp; a model with the trend, chosen for this reason and said so, may sharpen it.',
  },
};

/** A test that was carried out. */
export interface CheckFigures {
  readonly statistic: number;
  readonly p: number;
  /** Which strip, for outliers. */
  readonly where: string | null;
}

export interface CheckSentences {
  readonly what: string;
  readonly statisticName: string | null;
  readonly meaning: string;
  readonly whatToDo: string;
}

/** Below this a check is in doubt, whatever the trial's own level. */
export const DOUBT_LEVEL = 0.05;

export function checkSentences(id: Exclude<CheckId, 'sensitivity'>, figures: CheckFigures): CheckSentences {
  const words = WORDS[id];
  const doubt = figures.p < DOUBT_LEVEL;
  const where = figures.where === null ? '' : `, farthest out is ${figures.where}`;
  const shown = `${words.statisticName} = ${significant(figures.statistic, 4)}, ${pPhrase(figures.p)}`;
  return {
    what: words.what,
    statisticName: words.statisticName,
    meaning: `${doubt ? 'In doubt' : 'No sign against it'}: ${doubt ? words.doubt : words.fine}${where} (${shown}).`,
    whatToDo: doubt ? words.whenInDoubt : NOTHING_TO_DO,
  };
}

/** For the list of what weakens an answer. */
export function checkInDoubt(id: Exclude<CheckId, 'sensitivity'>, figures: CheckFigures): string {
  const words = WORDS[id];
  const where = figures.where === null ? '' : ` (${figures.where})`;
  const then = words.consequence === undefined ? '' : ` If so, ${words.consequence}.`;
  return `A check is in doubt: ${words.doubt}${where}; ${words.what}, ${pPhrase(figures.p)}.${then}`;
}

/** A check that these data cannot carry. */
export function checkRefused(id: Exclude<CheckId, 'sensitivity'>, code: string): CheckSentences {
  const reason = WHY_NOT_TESTED[code] ?? `these data do not carry it (${code})`;
  return {
    what: WORDS[id].what,
    statisticName: WORDS[id].statisticName,
    meaning: `Not tested: ${reason}.`,
    whatToDo: WHAT_HELPS[code] ?? NOTHING_TO_DO,
  };
}

export const WHY_NOT_TESTED: Readonly<Record<string, string>> = {
  noErrorDf: 'it needs at least 2 degrees of freedom for error',
  tooFewPlots: 'there are too few values in a group',
  tooFewTreatments: 'there are too few treatments with more than one value',
  tooManyPlots: 'it was made for at most 5,000 values',
  noErrorVariation: 'some values do not vary at all',
  constantResponse: 'the values to be tested are all alike',
  noCompletePair: 'fewer than three blocks hold both treatments once',
  confoundedTerms: 'it cannot be told apart from blocks and treatments, which use up what it would look at',
  incompleteBlocks: 'it needs blocks that each hold every treatment once',
  placesNotKnown: 'the places of the strips across the field are not known',
  trendInModel: 'the trend is already part of the model',
  notThisDesign: 'it is not made for this design',
};

const WHAT_HELPS: Readonly<Record<string, string>> = {
  noErrorDf: 'More blocks.',
  placesNotKnown: 'Give each strip its place across the field.',
};

/** Which strip or plot, told by what stood on it. */
export function stripWords(treatment: string, block: string | null, strip: string | null): string {
  const within = block === null ? [] : [/^block\b/i.test(block) ? block : `block ${block}`];
  const parts = [treatment, ...within].join(' in ');
  return strip === null ? parts : `${parts} (${strip})`;
}
