import { type CleanedComparison, cleaningPicture } from '../../src/figures/cleaning-picture.ts';
import { detectableCurve } from '../../src/figures/detectable-curve.ts';
import { differencesAgainstBreakEven } from '../../src/figures/differences-against-break-even.ts';
import { fieldMap } from '../../src/figures/field-map.ts';
import { lagCurve } from '../../src/figures/lag-curve.ts';
import { type PassToDraw, passMap } from '../../src/figures/pass-map.ts';
import type { StripOnField } from '../../src/figures/strip-on-field.ts';
import { stripsInFieldOrder } from '../../src/figures/strips-in-field-order.ts';
import { treatmentsOf } from '../../src/figures/treatment-marks.ts';
import { treatmentMeans } from '../../src/figures/treatment-means.ts';
import type { ReportModel } from '../../src/findings/report-model.ts';
import type { LagAnswer } from '../../src/harvest/estimate-lag.ts';
import { enoughReplicates, type ReplicatePlan } from '../../src/planning/enough-replicates.ts';
import { type SampleChoice, sampleReport } from '../export/sample-report.ts';

/** Reports of many shapes, from the ordinary to the awkward. */
export const SAMPLE_CHOICES: Readonly<Record<string, SampleChoice>> = {
  'five treatments against a check': {},
  'all pairs of rates': { treatments: ['0', '50', '100', '150'], blocks: 4, allPairs: true, margin: null },
  'two treatments in bushels': {
    treatments: ['Check', 'Seed dressing'],
    blocks: 4,
    unit: 'bu/ac',
    level: 182,
  },
  'nine treatments, long names': {
    treatments: Array.from(
      { length: 9 },
      (_, i) => `Programme ${i + 1} with adjuvant, split over two passes`,
    ),
    blocks: 4,
    allPairs: true,
  },
  'without replication': { treatments: ['A', 'B', 'C'], blocks: 1, replicated: false },
  'names that carry markup': {
    treatments: ['<script>alert(1)</script>', 'A & "B"', "it's > that", '日本晴の種子'],
    name: '<img src=x onerror=alert(1)>',
  },
  'values near zero': { level: 0.0004, unit: 'kg/kg' },
};

export const WIDTHS = [320, 390, 700, 1000, 1440];

const PLAN: ReplicatePlan = {
  treatments: 2,
  blocks: 2,
  design: 'randomizedCompleteBlocks',
  cvPercent: 5,
  differencePercent: 8,
  alpha: 0.05,
  power: 0.8,
  procedure: 't',
  comparisons: 1,
};

/** A hopeless plan, whose curve is steep, and one that is more than enough, whose curve is flat. */
export const SAMPLE_PLANS = {
  hopeless: enoughReplicates(PLAN),
  enough: enoughReplicates({
    ...PLAN,
    treatments: 6,
    blocks: 12,
    cvPercent: 1.3,
    design: 'completelyRandomized',
    procedure: 'dunnett',
    comparisons: 5,
  }),
};

const LAGS = Array.from({ length: 61 }, (_, k) => ({
  lagS: k / 2 - 15,
  disagreement: 1 - 0.7 * Math.exp(-(((k / 2 - 19.3) / 4) ** 2)),
}));

/** A clear trough, one that could not be told, and one without a curve. */
export const SAMPLE_LAGS: Readonly<Record<string, LagAnswer>> = {
  clear: { kind: 'lag', lagS: 4.3, lowerS: 3.25, upperS: 5.25, curve: LAGS, pairs: 14 },
  unclear: { kind: 'cannotTell', why: 'noClearLeast', curve: LAGS, pairs: 6 },
  none: { kind: 'cannotTell', why: 'allOneWay', curve: [], pairs: 0 },
};

export const SAMPLE_CLEANINGS: readonly CleanedComparison[] = [0.4, -0.05].map((own, row) => ({
  label: `Programme ${row + 1} with a long name that goes on and on against Untreated`,
  verdicts: 'Not settled. May pay',
  own,
  under: Array.from({ length: 123 }, (_, k) => ({
    estimate: own + 0.05 * Math.sin(k),
    differenceHolds: k % 40 !== 3,
    moneyHolds: k % 25 !== 7,
  })),
}));

export function fieldOf(report: ReportModel): readonly StripOnField[] {
  return report.strips.map((strip, index) => {
    const west = index * 12;
    return {
      id: strip.strip,
      treatment: strip.treatment,
      block: strip.block,
      rings: [
        [
          [west, 0],
          [west + 9, 0],
          [west + 9, 400],
          [west, 400],
          [west, 0],
        ],
      ],
    };
  });
}

/** Each strip one pass, and border passes on both sides; driven up and down. */
export function passesOf(strips: readonly StripOnField[]): readonly PassToDraw[] {
  return [null, ...strips, null].map((strip, k) => {
    const [west, from, to] = k % 2 === 0 ? [k * 9, 0, 300] : [k * 9 + 9, 300, 0];
    const east = k % 2 === 0 ? west + 9 : west - 9;
    return {
      number: k + 1,
      ring: [
        [west, from],
        [west, to],
        [east, to],
        [east, from],
      ],
      strip: strip?.id ?? null,
      treatment: strip?.treatment ?? null,
    };
  });
}

export function figuresOf(choice: SampleChoice, widthPx: number): Readonly<Record<string, string>> {
  const report = sampleReport(choice);
  const strips = fieldOf(report);
  const eastM = Array.from({ length: 500 }, (_, i) => (i % 30) * 12 + 4.5);
  const northM = Array.from({ length: 500 }, (_, i) => (i * 7) % 400);
  const kept = northM.map((north) => (north > 20 && north < 380 ? 1 : 0));
  return {
    'strips in field order': stripsInFieldOrder(report, 'yield', { widthPx }),
    differences: differencesAgainstBreakEven(report, 'yield', { widthPx }),
    'differences, one line': differencesAgainstBreakEven(report, 'yield', {
      widthPx: Math.max(620, widthPx),
      oneLine: true,
    }),
    'detectable curve, hopeless': detectableCurve(SAMPLE_PLANS.hopeless, { widthPx }),
    'detectable curve, enough': detectableCurve(SAMPLE_PLANS.enough, { widthPx }),
    ...lagFigures(widthPx),
    cleanings: cleaningPicture(SAMPLE_CLEANINGS, 't/ha', { widthPx }),
    passes: passMap(
      { passes: passesOf(strips), treatments: treatmentsOf(report), from: 'west' },
      { widthPx },
    ),
    'passes, turned': passMap(
      {
        passes: passesOf(strips).map((pass) => ({
          ...pass,
          ring: pass.ring.map(([e, n]) => [n, -e] as const),
        })),
        treatments: treatmentsOf(report),
        from: 'south',
      },
      { widthPx },
    ),
    means: treatmentMeans(report, 'yield', { widthPx }),
    map: fieldMap(
      { strips, treatments: treatmentsOf(report), unitSystem: 'us', points: { eastM, northM, kept } },
      { widthPx },
    ),
  };
}

function lagFigures(widthPx: number): Readonly<Record<string, string>> {
  const title = 'Flow of a harvest file with a long name.csv: how much neighbouring passes disagree';
  return Object.fromEntries(
    Object.entries(SAMPLE_LAGS).map(([name, answer]) => [
      `lag, ${name}`,
      lagCurve(answer, { widthPx, title, shiftS: 2 }),
    ]),
  );
}
