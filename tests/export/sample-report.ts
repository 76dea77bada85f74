import * as v from 'valibot';
import {
  type ReportAnswer,
  type ReportModel,
  type ReportResponse,
  type ReportStrip,
  reportModelSchema,
} from '../../src/findings/report-model.ts';

/**
 * Reports to draw and write, built from invented numbers: they show how a report looks and prove nothing about
 * statistics. Held against the report model's own schema, so that a sample cannot drift from the contract.
 */
export interface SampleChoice {
  readonly treatments?: readonly string[];
  readonly blocks?: number;
  readonly unit?: string;
  readonly level?: number;
  readonly margin?: number | null;
  readonly allPairs?: boolean;
  readonly replicated?: boolean;
  readonly name?: string;
}

const TREATMENTS = [
  'Untreated',
  'Early fungicide',
  'Late fungicide',
  'Foliar zinc 1.5 L/ha',
  'Biostimulant at six-leaf stage',
];

export function sampleReport(choice: SampleChoice = {}): ReportModel {
  const treatments = choice.treatments ?? TREATMENTS;
  const strips = sampleStrips(treatments, choice.blocks ?? 6, choice);
  const report: ReportModel = {
    version: 1,
    madeBy: 'Stripverdict 0.1.0',
    trial: {
      name: choice.name ?? 'Long Meadow, north half',
      crop: 'maize',
      design: 'randomizedCompleteBlocks',
      unitSystem: 'metric',
      files: [
        { name: 'trial.json', role: 'trial', sha256: 'a1b2c3d4e5f60718'.repeat(4) },
        { name: 'combine.csv', role: 'points', sha256: '0f1e2d3c4b5a6978'.repeat(4) },
      ],
      settings: { 'inference.alpha': '0.05', 'harvest.endMarginM': '20' },
      assumptions: ['The yield column was taken as wet grain.'],
      changedAfterSeeing: [{ path: 'harvest.endMarginM', before: '20', now: '25' }],
    },
    problems: [],
    strips,
    responses: [sampleResponse(treatments, choice)],
    weighed: null,
  };
  return v.parse(reportModelSchema, report);
}

function sampleStrips(treatments: readonly string[], blocks: number, choice: SampleChoice): ReportStrip[] {
  const { unit = 't/ha', level = 10.4 } = choice;
  return Array.from({ length: blocks }, (_, block) =>
    treatments.map((_, position) => {
      const index = block * treatments.length + position;
      const which = (position * 3 + block * 2) % treatments.length;
      const lost = index === 8;
      const value =
        index === 17 ? null : level * (1 + 0.02 * which + 0.03 * Math.sin(index * 2.3) - 0.01 * block);
      return {
        strip: String(index + 1),
        block: String(block + 1),
        treatment: treatments[which] ?? '',
        place: index + 1,
        areaM2: 3658.25,
        harvestedAreaM2: 3102.5,
        values: [{ response: 'yield', value, unit }],
        pointsRead: 212 + (index % 7),
        pointsKept: 181 + (index % 5),
        pointsSetAside: { endMargin: 22 + (index % 3), speed: index % 4 },
        subSamples: 181 + (index % 5),
        cvWithinPercent: 4.2,
        used: !lost && value !== null,
        whyNotUsed: lost ? 'wrong product applied' : value === null ? 'not harvested' : null,
      };
    }),
  ).flat();
}

function sampleResponse(treatments: readonly string[], choice: SampleChoice): ReportResponse {
  const { unit = 't/ha', level = 10.4, replicated = true } = choice;
  const mean = (index: number) => level * (1 + 0.02 * index);
  const half = level * 0.03;
  return {
    name: 'yield',
    unit,
    design: 'randomizedCompleteBlocks',
    better: 'higher',
    alpha: 0.05,
    refusal: null,
    anova: [
      { source: 'block', label: 'block', df: 5, ss: 1.21, ms: 0.242, f: 3.1, p: 0.031 },
      { source: 'treatment', label: 'treatment', df: 4, ss: 2.44, ms: 0.61, f: 7.82, p: 0.0006 },
      { source: 'error', label: 'error', df: 18, ss: 1.404, ms: 0.078, f: null, p: null },
      { source: 'total', label: 'total', df: 27, ss: 5.054, ms: null, f: null, p: null },
    ],
    grandMean: mean(2),
    cvPercent: 2.6,
    standardErrorOfMean: level * 0.011,
    standardErrorOfDifference: level * 0.0155,
    lsd: { alpha: 0.05, df: 18, value: level * 0.0326 },
    means: treatments.map((treatment, index) => ({
      treatment,
      n: index === 2 ? 5 : 6,
      mean: mean(index),
      adjustedMean: mean(index),
      standardError: replicated ? level * 0.011 : null,
      lower: replicated ? mean(index) - half : null,
      upper: replicated ? mean(index) + half : null,
      letters: choice.allPairs ? { tukey: 'abcde'.slice(Math.max(0, index - 1), index + 1) } : { lsd: 'a' },
    })),
    comparisons: pairs(treatments, choice).map(([a, b]) => ({
      a: treatments[a] ?? '',
      b: treatments[b] ?? '',
      difference: mean(a) - mean(b),
      standardError: level * 0.0155,
      df: 18,
      t: (mean(a) - mean(b)) / (level * 0.0155),
      p: 0.04,
      pUnadjusted: 0.02,
      lower: mean(a) - mean(b) - half * 1.4,
      upper: mean(a) - mean(b) + half * 1.4,
      procedure: choice.allPairs ? 'tukey' : 'dunnett',
    })),
    decidedBy: {
      procedure: choice.allPairs ? 'tukey' : 'dunnett',
      why: 'Each treatment is compared with one check.',
      chanceOfOneFalseReal: 0.05,
    },
    checks: [
      {
        id: 'equalVariances',
        what: 'Equal variances',
        statisticName: 'chi-squared',
        statistic: 1.2,
        p: 0.34,
        meaning: 'Nothing speaks against it.',
        whatToDo: '',
        inDoubt: false,
      },
    ],
    agreement: [],
    detectable: { difference: level * 0.06, lower: level * 0.05, upper: level * 0.08, power: 0.8 },
    answers: pairs(treatments, choice).map(([a, b]) => sampleAnswer(treatments, a, b, choice)),
    economics: pairs(treatments, choice).map(([a, b]) => ({
      a: treatments[a] ?? '',
      b: treatments[b] ?? '',
      breakEven: a === 3 ? null : level * 0.012 * (a + 1),
      extraCost: a === 3 ? null : 24 + 9 * a,
      netReturn: a === 3 ? null : 12.5 * (a - 2),
      netReturnLower: a === 3 ? null : 12.5 * (a - 2) - 40,
      netReturnUpper: a === 3 ? null : 12.5 * (a - 2) + 40,
      moneyUnit: 'EUR/ha',
      missing: a === 3 ? ['costPerHa of zinc'] : [],
    })),
    leaveOneBlockOut: [],
    chances: null,
    flattery: {
      best: treatments[0] ?? '',
      of: treatments.length,
      expected: level * 0.01,
      percentOfMean: 1,
      meaning: 'The best of several is flattered by chance.',
    },
    replicatesForMargin: null,
    factors: [],
    differenceKinds: [],
    transformation: null,
    contrasts: [],
    rates: null,
    cleanings: null,
    blocking: null,
    rankedPairs: null,
  };
}

function pairs(treatments: readonly string[], choice: SampleChoice): readonly (readonly [number, number])[] {
  const all = treatments.flatMap((_, a) => treatments.slice(0, a).map((_, b) => [a, b] as const));
  return choice.allPairs ? all : all.filter(([, b]) => b === 0);
}

function sampleAnswer(
  treatments: readonly string[],
  a: number,
  b: number,
  choice: SampleChoice,
): ReportAnswer {
  const { unit = 't/ha', level = 10.4, replicated = true } = choice;
  const estimate = level * 0.02 * (a - b);
  const half = level * 0.042;
  const real = replicated && Math.abs(estimate) > half;
  const [nameA, nameB] = [treatments[a] ?? '', treatments[b] ?? ''];
  const verdict = real ? 'Real' : 'Not settled';
  return {
    a: nameA,
    b: nameB,
    difference: replicated ? verdict : null,
    money: a === 3 ? null : real ? 'Pays' : 'May pay',
    estimate,
    interval: {
      lower: replicated ? estimate - half : null,
      upper: replicated ? estimate + half : null,
      level: 0.95,
      procedure: choice.allPairs ? 'tukey' : 'dunnett',
    },
    equivalence: {
      lower: replicated ? estimate - half * 0.8 : null,
      upper: replicated ? estimate + half * 0.8 : null,
      margin: choice.margin === undefined ? level * 0.015 : choice.margin,
      p: null,
    },
    differenceSentence: `${verdict}: ${nameA} gave ${estimate.toFixed(2)} ${unit} more than ${nameB}, and the trial places it between ${(estimate - half).toFixed(2)} and ${(estimate + half).toFixed(2)}.`,
    moneySentence: 'May pay: break-even lies inside the interval.',
    sentence: `On this field yield was ${estimate.toFixed(2)} ${unit} higher with ${nameA} than with ${nameB}, and that is more than chance would readily explain. It may pay: after cost ${nameA} returned +12.50 EUR/ha against ${nameB}, but a loss and a gain are both possible.`,
    reasons: ['The interval is held against zero.'],
    weakens: [
      'Strip 9 was lost: the wrong product was applied.',
      `${treatments.at(-1)} has the best mean of ${treatments.length} treatments, and the best of several is flattered by chance: expect less next time.`,
      'Screening set aside 15 % of the points of one treatment but 12 % of another: the cleaning itself may have moved the difference.',
      'Nobody said which transit lag was taken out of the yield data; if none was, values smear along the strips.',
    ],
    wouldSettle: ['Two more blocks.'],
  };
}
