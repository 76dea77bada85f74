import { describe, expect, test } from 'vitest';
import { readHand } from '../../src/intake/read-hand.ts';
import { findCrop } from '../../src/trial/crops.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const read = (text: string) => readHand(asBytes(text), 'h.csv', null, null);

describe('readHand', () => {
  test('reads weight, length and width of a strip in SI', () => {
    const [sample] = taken(
      read('Strip,Weight (lb),Length (ft),Width (ft),Moisture (%)\nA1,1000,500,20,15.5\n'),
    ).samples;
    // 1000 lb = 453.59237 kg; 500 ft × 20 ft = 10 000 ft² = 929.0304 m² (both exact by definition).
    expect(sample).toMatchObject({
      row: 2,
      strip: 'A1',
      treatment: null,
      block: null,
      moisturePercent: 15.5,
      others: {},
    });
    expect(sample?.weightKg).toBeCloseTo(453.59237, 10);
    expect(sample?.areaM2).toBeCloseTo(929.0304, 10);
    expect(sample?.yieldKgPerHa).toBe(null);
  });

  test('several samples a strip, named by treatment and block; other numbers are responses, labels are not', () => {
    const outcome = read(
      'Block;Treatment;Sample;Year;Yield (t/ha);Height (cm);Notes\n1;A;1;2024;9,5;88;\n1;A;2;2024;9,7;NA;wet\n1;B;1;2024;8,5;90;\n',
    );
    const { samples, otherResponses } = taken(outcome);
    expect(samples.map(({ treatment, block }) => [treatment, block])).toEqual([
      ['A', '1'],
      ['A', '1'],
      ['B', '1'],
    ]);
    expect(samples[1]).toMatchObject({
      yieldKgPerHa: 9700,
      weightKg: null,
      areaM2: null,
      others: { 'Height (cm)': null },
    });
    expect(otherResponses).toEqual([{ name: 'Height (cm)', unit: 'cm' }]);
    expect(problemOf(outcome, 'otherResponsesTaken').details.headings).toEqual(['Height (cm)']);
  });

  test('area in hectares, yield in bushels with a crop', () => {
    expect(taken(read('Strip,Weight (kg),Area (ha)\n1,900,0.1\n')).samples[0]?.areaM2).toBeCloseTo(1000, 9);
    const text = 'Strip,Yield (bu/ac)\n1,100\n';
    expect(codesOf(read(text))).toContain('bushelsNeedCrop');
    const wheat = taken(readHand(asBytes(text), 'h.csv', null, findCrop('wheat')));
    expect(wheat.samples[0]?.yieldKgPerHa).toBeCloseTo((100 * 60 * 0.45359237) / 0.40468564224, 8);
  });

  test('a moisture that cannot be counts as not measured, said with its row', () => {
    const outcome = read('Strip,Weight (kg),Area (m2),Moisture (%)\n1,900,1000,0\n2,900,1000,15\n');
    expect(problemOf(outcome, 'moistureImpossible')).toMatchObject({
      row: 2,
      details: { value: 0, kept: false },
    });
    expect(taken(outcome).samples.map(({ moisturePercent }) => moisturePercent)).toEqual([null, 15]);
  });

  test.each([
    ['text in a weight', 'Strip,Weight (kg),Area (m2)\n1,heavy,10\n', 'notANumber', 2],
    ['a weight without its area', 'Strip,Weight (kg),Length (m)\n1,900,100\n', 'weightWithoutArea', null],
    ['nothing to join rows to strips', 'Weight (kg),Area (m2)\n900,10\n', 'noStripColumn', null],
    ['nothing to analyse', 'Strip,Notes\n1,good\n', 'noHarvestColumn', null],
    ['an area of zero', 'Strip,Weight (kg),Area (m2)\n1,900,10\n2,900,0\n', 'notPositive', 3],
    ['a weight below zero', 'Strip,Weight (kg),Area (m2)\n1,-900,10\n', 'notPositive', 2],
    ['a row without a strip', 'Strip,Weight (kg),Area (m2)\n1,900,10\n,900,10\n', 'rowWithoutStrip', 3],
    ['a weight without unit', 'Strip,Weight,Area (m2)\n1,900,10\n', 'askUnit', null],
    ['two weights', 'Strip,Weight A (kg),Weight B (kg),Area (m2)\n1,9,9,10\n', 'askWhichColumn', null],
    [
      'a row with too many cells',
      'Strip,Weight (kg),Area (m2)\n1,900,5,10\n2,900,10\n3,900,10\n',
      'rowTooLong',
      2,
    ],
  ])('refuses %s', (_, text, code, row) => {
    const outcome = read(text);
    expect(outcome.ok).toBe(false);
    const named = outcome.problems.find((p) => p.code === code && p.severity === 'error');
    expect(named?.row).toBe(row);
  });

  test('names that differ in spelling alone are named', () => {
    const outcome = read('Treatment,Yield (t/ha)\nUntreated,9\nuntreated ,9\nun-treated,8\n');
    expect(codesOf(outcome)).toEqual(['levelsAlike', 'levelsAlike']);
  });
});
