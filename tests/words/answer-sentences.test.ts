import { describe, expect, it } from 'vitest';
import { type ComparisonFigures, differenceSentence } from '../../src/words/answer-sentences.ts';
import { missingMoneyWords, moneySentence } from '../../src/words/money-sentences.ts';
import { treatmentInSentence } from '../../src/words/treatment-in-sentence.ts';

const figures: ComparisonFigures = {
  response: 'yield',
  a: 'Gain',
  b: 'Untreated',
  unit: 't/ha',
  decimals: 2,
  estimate: 0.45,
  lower: 0.12,
  upper: 0.78,
  level: 0.95,
  equivalenceLower: 0.2,
  equivalenceUpper: 0.7,
  equivalenceLevel: 0.9,
  margin: 0.8,
};

/** The sentences themselves are ours; what is held is that none claims more than its verdict. */
describe('sentences on a difference', () => {
  it('give size, direction, unit and interval', () => {
    expect(differenceSentence('Real', figures)).toBe(
      'Real: yield was 0.45 t/ha higher with Gain than with Untreated (95 % interval +0.12 to +0.78 t/ha).',
    );
    const lower = differenceSentence('Real', { ...figures, estimate: -0.45, lower: -0.78, upper: -0.12 });
    expect(lower).toMatch(/0\.45 t\/ha lower with Gain.*-0\.78 to -0\.12/);
  });

  it('never say that an unproven difference is none', () => {
    const open = differenceSentence('Not settled', { ...figures, lower: -0.1, upper: 1 });
    expect(open).toMatch(/^Not settled: .*cannot tell/);
    expect(open).not.toMatch(/no difference|same|equal/i);
  });

  it('name margin and equivalence interval where they decide', () => {
    expect(differenceSentence('Same for practical purposes', figures)).toMatch(
      /margin of 0\.80 t\/ha \(90 % interval \+0\.20 to \+0\.70 t\/ha\)/,
    );
    expect(differenceSentence('Real, but smaller than matters', figures)).toMatch(/less than the margin/);
  });

  it('do without a unit, and tell percentages apart in points', () => {
    expect(differenceSentence('Real', { ...figures, unit: null })).toMatch(/was 0\.45 higher/);
    expect(differenceSentence('Real', { ...figures, unit: '%' })).toMatch(/0\.45 percentage points higher/);
  });

  it('say of no difference at all that it was the same, not 0.00 lower', () => {
    expect(differenceSentence(null, { ...figures, estimate: 0 })).toMatch(/was the same with Gain as with/);
  });
});

describe('sentences on money', () => {
  const money = {
    breakEven: -0.1,
    neededRatio: null,
    net: 12.3,
    netLower: -5,
    netUpper: 30,
    moneyUnit: 'EUR/ha',
  };

  it('hold for a treatment that costs less as well', () => {
    expect(moneySentence('Pays', figures, money)).toMatch(
      /^Pays: Gain costs less than .* and breaks even at -0\.10 t\/ha against/,
    );
    expect(moneySentence('May pay', figures, money)).toMatch(/-5\.00 EUR\/ha to \+30\.00 EUR\/ha/);
  });

  it('name what is missing', () => {
    expect(missingMoneyWords(['pricePerKg', 'costPerHa of Gain'])).toEqual([
      'the price of the crop is not given',
      'the cost of Gain is not given',
    ]);
  });
});

it('a treatment that is a bare number carries its heading', () => {
  expect(treatmentInSentence('50', 'rate')).toBe('rate 50');
  expect(treatmentInSentence('50', null)).toBe('treatment 50');
  expect(treatmentInSentence('N 50', 'rate')).toBe('N 50');
});
