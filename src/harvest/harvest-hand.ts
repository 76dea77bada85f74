import { mean, sampleStandardDeviation } from 'simple-statistics';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { M2_PER_HA } from '../trial/units.ts';
import { countPerM2, countsOverArea } from './counts-over-area.ts';
import { handStripFinder } from './hand-strip.ts';
import type { HandHarvestInput, HandSampleInput } from './harvest-input.ts';
import { canWeigh, isRatioToMass, type MeanBy, meanByMass, withSeveral } from './means-by-mass.ts';
import {
  chooseMoistureCorrection,
  correctionFactor,
  type MoistureCorrection,
} from './moisture-correction.ts';
import type { Assumption } from './problem-codes.ts';
import { stripGrounds } from './strip-ground.ts';
import type { ResponseOfStrips, StripValue, Weighing } from './strip-values.ts';

export interface HandHarvestResult {
  /** One for each strip of the trial, in the trial's order. */
  readonly strips: readonly StripValue[];
  readonly responses: readonly ResponseOfStrips[];
  readonly weighing: Weighing;
  readonly assumptions: readonly Assumption[];
}

/** 'others': what stands beside yield and moisture alone. */
export type AskedOfHand = 'all' | 'others';

/** A sample with its yield at standard moisture; null where the row gives none that can be used. */
interface ReadSample {
  readonly sample: HandSampleInput;
  readonly yieldKgPerHa: number | null;
  /** Ground of the sample; null where the table gave a yield per area. */
  readonly areaM2: number | null;
}

/**
 * Which value does each strip have, from weights or samples taken by hand? Several samples of a strip are
 * sub-samples: their masses over their areas, or, where the table gives yields per area alone, their plain mean.
 * Moisture, contents and test weight are weighted by mass as recorded where every sample has one; counts on samples of differing
 * size are taken over their ground, other responses are averaged. The trial needs no polygons.
 *
 * Rows that fit no strip, and values that cannot be, are named problems with their row and are left out.
 */
export function harvestHand(
  trial: TrialDocument,
  hand: HandHarvestInput,
  asked: AskedOfHand = 'all',
): Outcome<HandHarvestResult> {
  const { file } = hand;
  const has = (said: (sample: HandSampleInput) => boolean) => asked === 'all' && hand.samples.some(said);
  const hasMoisture = has(({ moisturePercent }) => moisturePercent !== null);
  const hasYield = has(({ weightKg, yieldKgPerHa }) => (weightKg ?? yieldKgPerHa) !== null);
  const { correction, assumptions } = chooseMoistureCorrection(
    file,
    hand.yieldColumn,
    hasMoisture,
    trial.standardMoisturePercent,
  );
  const problems: Problem[] = takenNames(hand);
  const byStrip = new Map<string, ReadSample[]>(trial.strips.map(({ id }) => [id, []]));
  const findStrip = handStripFinder(trial, file);
  for (const sample of hand.samples) {
    const strip = findStrip(sample);
    if ('code' in strip) problems.push(strip);
    else byStrip.get(strip.id)?.push(readSample(sample, correction, file, hasYield, problems));
  }
  const counts = countsOverArea(hand);
  const means = meansOf(hand, [...byStrip.values()]);
  const responses = responsesOf(hand, hasYield, hasMoisture, counts);
  const areas = stripAreas(trial);
  const strips = [...byStrip].map(([id, samples]) =>
    stripValue(id, samples, responses, hand, { counts, means }, areas.get(id) ?? null, problems),
  );
  if (responses.some(({ quantity }) => quantity === 'yield')) problems.push(...withoutYield(byStrip, file));
  const averaged = [...byStrip].filter(([, samples]) => isPlainMean(samples)).map(([id]) => id);
  return success(
    {
      strips,
      responses,
      weighing: averaged.length > 0 ? 'equal' : 'area',
      assumptions: [
        ...(hasYield ? assumptions : []),
        ...(averaged.length > 0
          ? [{ code: 'handYieldsAveraged', details: { file, strips: averaged } } as const]
          : []),
        ...(counts.size > 0
          ? [{ code: 'handCountsOverArea', details: { file, responses: [...counts] } } as const]
          : []),
        ...saidOfMeans(hand, [...byStrip.values()], means),
      ],
    },
    problems,
  );
}

type Means = ReadonlyMap<string, MeanBy>;

/** How samples of one strip are put together, for each response that is a ratio to a mass. */
function meansOf(hand: HandHarvestInput, strips: readonly (readonly ReadSample[])[]): Means {
  const samples = strips.map((own) => own.map(({ sample }) => sample));
  return new Map(
    hand.otherResponses.flatMap((response): [string, MeanBy][] => {
      const by = isRatioToMass(response);
      if (by === null) return [];
      return [[response.name, canWeigh(samples, response.name, by) ? by : 'samples']];
    }),
  );
}

/** Said where strips have several samples of such a response. */
function saidOfMeans(
  { file }: HandHarvestInput,
  strips: readonly (readonly ReadSample[])[],
  means: Means,
): Assumption[] {
  const samples = strips.map((own) => own.map(({ sample }) => sample));
  const several = [...means].filter(([name]) => withSeveral(samples, name).length > 0);
  const named = (isWeighed: boolean) =>
    several.filter(([, by]) => (by !== 'samples') === isWeighed).map(([name]) => name);
  const [weighed, averaged] = [named(true), named(false)];
  return [
    ...(weighed.length === 0
      ? []
      : [{ code: 'handMeansByMass', details: { file, responses: weighed } } as const]),
    ...(averaged.length === 0
      ? []
      : [{ code: 'handMeansPlain', details: { file, responses: averaged } } as const]),
  ];
}

/** One warning for all of them, since a trial may have a hundred strips. */
function withoutYield(byStrip: ReadonlyMap<string, readonly ReadSample[]>, file: string): Problem[] {
  const strips = [...byStrip].flatMap(([id, samples]) =>
    samples.every(({ yieldKgPerHa }) => yieldKgPerHa === null) ? [id] : [],
  );
  return strips.length === 0
    ? []
    : [problem('warning', 'handStripsWithoutYield', { file }, { strips, count: strips.length })];
}

function readSample(
  sample: HandSampleInput,
  correction: MoistureCorrection,
  file: string,
  hasYield: boolean,
  problems: Problem[],
): ReadSample {
  const { row, weightKg, areaM2, yieldKgPerHa, moisturePercent } = sample;
  const nothing: ReadSample = { sample, yieldKgPerHa: null, areaM2: null };
  const say = (code: string, details: Problem['details'] = {}) => {
    problems.push(problem('warning', code, { file, row }, details));
    return nothing;
  };
  if (!hasYield) return nothing;
  const impossible = impossibleValue(sample);
  if (impossible !== null) {
    say('handValueImpossible', { quantity: impossible, value: sample[FIELD_OF[impossible]] });
    return { ...nothing, sample: impossible === 'moisture' ? { ...sample, moisturePercent: null } : sample };
  }
  const isWeighed = weightKg !== null && areaM2 !== null;
  const recorded = isWeighed ? (weightKg / areaM2) * M2_PER_HA : yieldKgPerHa;
  if (recorded === null) return say('handYieldMissing');
  const factor = correctionFactor(correction, moisturePercent ?? Number.NaN);
  if (Number.isNaN(factor)) return say('handMoistureMissing');
  return { sample, yieldKgPerHa: recorded * factor, areaM2: isWeighed ? areaM2 : null };
}

const FIELD_OF = {
  weight: 'weightKg',
  area: 'areaM2',
  yield: 'yieldKgPerHa',
  moisture: 'moisturePercent',
} as const;

function impossibleValue(sample: HandSampleInput): keyof typeof FIELD_OF | null {
  const { weightKg, areaM2, yieldKgPerHa, moisturePercent } = sample;
  if (weightKg !== null && !(weightKg >= 0)) return 'weight';
  if (areaM2 !== null && !(areaM2 > 0)) return 'area';
  if (yieldKgPerHa !== null && !(yieldKgPerHa >= 0)) return 'yield';
  if (moisturePercent !== null && !(moisturePercent >= 0 && moisturePercent < 100)) return 'moisture';
  return null;
}

const OWN_NAMES = ['yield', 'moisture'];

function takenNames({ file, otherResponses }: HandHarvestInput): Problem[] {
  return otherResponses
    .filter(({ name }) => OWN_NAMES.includes(name))
    .map(({ name }) => problem('warning', 'handResponseNameTaken', { file, column: name }, { name }));
}

function responsesOf(
  hand: HandHarvestInput,
  hasYield: boolean,
  hasMoisture: boolean,
  counts: ReadonlySet<string>,
): ResponseOfStrips[] {
  return [
    ...(hasYield ? [{ name: 'yield', quantity: 'yield', unit: null } as const] : []),
    ...(hasMoisture ? [{ name: 'moisture', quantity: 'moisture', unit: '%' } as const] : []),
    ...hand.otherResponses
      .filter(({ name }) => !OWN_NAMES.includes(name))
      .map(
        ({ name, unit }) => ({ name, quantity: 'other', unit: counts.has(name) ? 'per m²' : unit }) as const,
      ),
  ];
}

function stripAreas(trial: TrialDocument): ReadonlyMap<string, number> {
  const frame = frameOfStrips(trial.strips);
  if (frame === null) return new Map();
  return new Map(stripGrounds(trial.strips, frame).map(({ id, areaM2 }) => [id, areaM2]));
}

function stripValue(
  strip: string,
  samples: readonly ReadSample[],
  responses: readonly ResponseOfStrips[],
  hand: HandHarvestInput,
  { counts, means }: { readonly counts: ReadonlySet<string>; readonly means: Means },
  areaM2: number | null,
  problems: Problem[],
): StripValue {
  const withYield = samples.filter(({ yieldKgPerHa }) => yieldKgPerHa !== null);
  const isMixed = withYield.some((s) => s.areaM2 === null) && withYield.some((s) => s.areaM2 !== null);
  if (isMixed) problems.push(problem('warning', 'handSamplesMixed', { file: hand.file }, { strip }));
  const yields = withYield.map(({ yieldKgPerHa }) => yieldKgPerHa ?? Number.NaN);
  const cv = yields.length > 1 ? (100 * sampleStandardDeviation(yields)) / mean(yields) : Number.NaN;
  const harvestedAreaM2 = withYield.reduce((sum, s) => sum + (s.areaM2 ?? 0), 0);
  const valueIn = ({ name, quantity }: ResponseOfStrips): number | null => {
    if (quantity === 'yield') return isMixed ? null : yieldOf(withYield);
    if (quantity === 'moisture') return moistureOf(samples);
    const rows = samples.map(({ sample }) => sample);
    if (counts.has(name)) return countPerM2(rows, name);
    return otherMean(rows, name, means.get(name) ?? 'samples');
  };
  return {
    strip,
    values: Object.fromEntries(responses.map((response) => [response.name, valueIn(response)])),
    areaM2,
    harvestedAreaM2: harvestedAreaM2 > 0 ? harvestedAreaM2 : null,
    pointsRead: null,
    pointsKept: null,
    pointsSetAside: {},
    subSamples: samples.length,
    cvWithinPercent: Number.isFinite(cv) ? cv : null,
  };
}

/** Mass over area; yields without areas count alike. */
function yieldOf(samples: readonly ReadSample[]): number | null {
  if (samples.length === 0) return null;
  return weightedMean(samples.map((s) => [s.yieldKgPerHa ?? Number.NaN, s.areaM2 ?? 1]));
}

function isPlainMean(samples: readonly ReadSample[]): boolean {
  const used = samples.filter(({ yieldKgPerHa }) => yieldKgPerHa !== null);
  return used.length > 1 && used.every(({ areaM2 }) => areaM2 === null);
}

/** By mass as weighed where all samples have one, by yield where all have that, else a plain mean. */
function moistureOf(samples: readonly ReadSample[]): number | null {
  const known = samples.flatMap(({ sample }) =>
    sample.moisturePercent === null ? [] : [{ ...sample, moisturePercent: sample.moisturePercent }],
  );
  if (known.length === 0) return null;
  const weightBy = (['weightKg', 'yieldKgPerHa'] as const).find((field) =>
    known.every((sample) => (sample[field] ?? 0) > 0),
  );
  return weightedMean(
    known.map((sample) => [sample.moisturePercent, weightBy === undefined ? 1 : (sample[weightBy] ?? 1)]),
  );
}

/** A single sample stands for itself, weighed or not. */
function otherMean(samples: readonly HandSampleInput[], name: string, by: MeanBy): number | null {
  const values = samples.flatMap(({ others }) => others[name] ?? []);
  if (values.length === 0) return null;
  return by === 'samples' || values.length === 1 ? mean(values) : meanByMass(samples, name, by);
}

function weightedMean(pairs: readonly (readonly [value: number, weight: number])[]): number {
  const weight = pairs.reduce((sum, [, w]) => sum + w, 0);
  return pairs.reduce((sum, [value, w]) => sum + value * w, 0) / weight;
}
