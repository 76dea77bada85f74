import { describe, expect, it } from 'vitest';
import { harvestHand } from '../../src/harvest/harvest-hand.ts';
import type { HandHarvestInput, HandSampleInput } from '../../src/harvest/harvest-input.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { ALREADY_STANDARD, trialOfStrips } from './field-of-strips.ts';
import { handSamples } from './hand-samples.ts';

/** Six strips without polygons: A B | A B | A B in blocks 1, 2, 3; standard moisture 15 %. */
const TRIAL = {
  ...trialOfStrips(6, 12, 300),
  strips: trialOfStrips(6, 12, 300).strips.map((strip) => ({ ...strip, polygon: null })),
};

const WET = { ...ALREADY_STANDARD, moistureBasis: 'wet' } as const;

function hand(
  rows: readonly Partial<HandSampleInput>[],
  yieldColumn: HandHarvestInput['yieldColumn'] = ALREADY_STANDARD,
): HandHarvestInput {
  return {
    file: 'weights.csv',
    yieldColumn,
    otherResponses: [{ name: 'height', unit: 'cm' }],
    samples: handSamples(rows.map((given) => ({ others: { height: null }, ...given }))),
  };
}

function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const valuesOf = (input: HandHarvestInput, strip: string) =>
  unwrap(harvestHand(TRIAL, input)).strips.find((value) => value.strip === strip);

/** Problems other than the strips that these short tables leave empty; each with the keys that are listed for it. */
function said(input: HandHarvestInput) {
  const problems = harvestHand(TRIAL, input).problems.filter(({ code }) => code !== 'handStripsWithoutYield');
  for (const { code, details } of problems) {
    expect(Object.keys(details), code).toEqual([
      ...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES],
    ]);
  }
  return problems.map(({ code, row }) => [code, row]);
}

describe('counts', () => {
  const counted = (areas: readonly [number, number], name = 'Plants') => ({
    ...hand([
      { strip: 's1', areaM2: areas[0], others: { [name]: 12 } },
      { strip: 's1', areaM2: areas[1], others: { [name]: 36 } },
    ]),
    otherResponses: [{ name, unit: null }],
  });

  it('on samples of differing size are taken over their ground, not averaged', () => {
    // Analytic: 48 plants on 5 m2; the mean of 12 and 36 would be 24.
    const result = unwrap(harvestHand(TRIAL, counted([1, 4])));
    expect(result.strips[0]!.values.Plants).toBeCloseTo(48 / 5, 12);
    expect(result.responses).toContainEqual({ name: 'Plants', quantity: 'other', unit: 'per m²' });
    expect(result.assumptions).toContainEqual({
      code: 'handCountsOverArea',
      details: { file: 'weights.csv', responses: ['Plants'] },
    });
  });

  it('on samples of one size, and what is no count, stay plain means', () => {
    expect(valuesOf(counted([2, 2]), 's1')?.values.Plants).toBe(24);
    expect(valuesOf(counted([1, 4], 'Height'), 's1')?.values.Height).toBe(24);
  });
});

describe('hand harvest', () => {
  it('takes several samples as mass over area, not as the mean of their yields', () => {
    // Analytic: 3 kg from 2 m2 and 4 kg from 8 m2 are 7 kg from 10 m2 = 7000 kg/ha; the yields' mean is 10,000.
    const input = hand([
      { strip: 's1', weightKg: 3, areaM2: 2 },
      { strip: 's1', weightKg: 4, areaM2: 8 },
    ]);
    const value = valuesOf(input, 's1');
    expect(value?.values.yield).toBeCloseTo(7000, 9);
    expect(value?.harvestedAreaM2).toBe(10);
    expect(value?.subSamples).toBe(2);
    expect(unwrap(harvestHand(TRIAL, input)).weighing).toBe('area');
    // All strips that the table leaves out are named in one warning.
    const others = TRIAL.strips.map(({ id }) => id).filter((id) => id !== 's1');
    const left = harvestHand(TRIAL, input).problems.filter(({ code }) => code === 'handStripsWithoutYield');
    expect(left.map(({ details }) => details)).toEqual([{ strips: others, count: others.length }]);
  });

  it('averages yields that come without area, and says so', () => {
    const input = hand([
      { strip: 's1', yieldKgPerHa: 5000 },
      { strip: 's1', yieldKgPerHa: 6000 },
      { strip: 's2', yieldKgPerHa: 4000 },
    ]);
    const result = unwrap(harvestHand(TRIAL, input));
    expect(result.strips.map(({ values }) => values.yield)).toEqual([5500, 4000, null, null, null, null]);
    expect(result.weighing).toBe('equal');
    expect(result.assumptions).toEqual([
      { code: 'handYieldsAveraged', details: { file: 'weights.csv', strips: ['s1'] } },
    ]);
  });

  it('brings each sample to standard by its own moisture; moisture by mass', () => {
    // 10 kg at 20 % and 30 kg at 12 %, 10 m2 each: (8 + 26.4) / 0.85 kg from 20 m2; moisture (200 + 360) / 40.
    const value = valuesOf(
      hand(
        [
          { strip: 's1', weightKg: 10, areaM2: 10, moisturePercent: 20 },
          { strip: 's1', weightKg: 30, areaM2: 10, moisturePercent: 12 },
        ],
        WET,
      ),
      's1',
    );
    expect(value?.values.yield).toBeCloseTo((((8 + 26.4) / 0.85) * 10_000) / 20, 9);
    expect(value?.values.moisture).toBeCloseTo(14, 12);
  });

  it('averages other responses', () => {
    const rows = [80, null, 90].map((height) => ({ strip: 's1', others: { height } }));
    const result = unwrap(harvestHand(TRIAL, hand(rows)));
    expect(result.strips[0]?.values).toEqual({ height: 85 });
    expect(result.responses).toEqual([{ name: 'height', quantity: 'other', unit: 'cm' }]);
    expect(harvestHand(TRIAL, hand(rows)).problems).toEqual([]);
  });

  it('finds the strip by id, or by treatment and block, id or name, capitals aside', () => {
    const input = hand([
      { strip: ' S1', yieldKgPerHa: 1 },
      { treatment: 'B', block: '1', yieldKgPerHa: 2 },
      { treatment: 'Treatment A', block: 'block 2', yieldKgPerHa: 3 },
    ]);
    expect(said(input)).toEqual([]);
    const yields = unwrap(harvestHand(TRIAL, input)).strips.map(({ values }) => values.yield);
    expect(yields.slice(0, 3)).toEqual([1, 2, 3]);
  });

  it('names rows that fit no strip, several, or contradict themselves', () => {
    const input = hand([
      { strip: 'nowhere', yieldKgPerHa: 1 },
      { treatment: 'C', block: '1', yieldKgPerHa: 1 },
      { treatment: 'A', yieldKgPerHa: 1 },
      { strip: 's1', treatment: 'B', yieldKgPerHa: 1 },
      { block: '1', yieldKgPerHa: 1 },
    ]);
    expect(said(input)).toEqual([
      ['handStripUnknown', 2],
      ['handPlaceUnknown', 3],
      ['handPlaceAmbiguous', 4],
      ['handPlaceContradicts', 5],
      ['handPlaceMissing', 6],
    ]);
  });

  it('names values that cannot be, and leaves them out', () => {
    const input = hand(
      [
        { strip: 's1', weightKg: 5, areaM2: 0, moisturePercent: 15 },
        { strip: 's2', weightKg: -1, areaM2: 10, moisturePercent: 15 },
        { strip: 's3', weightKg: 5, areaM2: 10, moisturePercent: 100 },
        { strip: 's4', weightKg: 5, areaM2: 10 },
        { strip: 's5', weightKg: 5, moisturePercent: 15 },
        { strip: 's6', weightKg: 5, areaM2: 10, moisturePercent: 15 },
      ],
      WET,
    );
    expect(said(input)).toEqual([
      ['handValueImpossible', 2],
      ['handValueImpossible', 3],
      ['handValueImpossible', 4],
      ['handMoistureMissing', 5],
      ['handYieldMissing', 6],
    ]);
    const yields = unwrap(harvestHand(TRIAL, input)).strips.map(({ values }) => values.yield);
    expect(yields).toEqual([null, null, null, null, null, 5000]);
  });

  it('leaves a response out that is headed like one of its own', () => {
    const input = { ...hand([{ strip: 's1', yieldKgPerHa: 5000, others: { yield: 1 } }]) };
    const doubled = { ...input, otherResponses: [{ name: 'yield', unit: null }] };
    expect(said(doubled)).toEqual([['handResponseNameTaken', null]]);
    expect(valuesOf(doubled, 's1')?.values).toEqual({ yield: 5000 });
  });

  it('does not mix weights with bare yields in one strip', () => {
    const input = hand([
      { strip: 's1', weightKg: 5, areaM2: 10 },
      { strip: 's1', yieldKgPerHa: 5000 },
    ]);
    expect(said(input)).toEqual([['handSamplesMixed', null]]);
    expect(valuesOf(input, 's1')?.values.yield).toBeNull();
  });

  it('gives the same values whatever the order of rows', () => {
    const rows = [3, 1, 4, 1, 5, 9].map((weightKg, i) => ({
      strip: `s${(i % 3) + 1}`,
      weightKg,
      areaM2: 2 + i,
    }));
    const forward = unwrap(harvestHand(TRIAL, hand(rows))).strips;
    const backward = unwrap(harvestHand(TRIAL, hand(rows.toReversed()))).strips;
    forward.slice(0, 3).forEach((value, i) => {
      expect(backward[i]?.values.yield).toBeCloseTo(value.values.yield as number, 9);
    });
  });
});
