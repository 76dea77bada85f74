import { describe, expect, it } from 'vitest';
import { falseRealChance } from '../../analyses/false-real-chance.ts';
import { accepted, expectRelative, refusalOf } from './fixture-data.ts';

const chance = (treatments: number, blocks: number, alpha = 0.05) =>
  accepted(falseRealChance(treatments, (treatments - 1) * (blocks - 1), alpha));

describe('the chance that LSD calls at least one false difference', () => {
  it('four blocks: .18 with 4 treatments, .46 with 8 (simulated and computed for the design of this project)', () => {
    expect(chance(4, 4).unprotected.toFixed(2)).toBe('0.18');
    expect(chance(8, 4).unprotected.toFixed(2)).toBe('0.46');
  });

  it('two treatments: alpha, however it is counted', () => {
    const two = chance(2, 5, 0.1);
    expectRelative(two.unprotected, 0.1, 1e-10);
    expectRelative(two.againstCheck, 0.1, 1e-10);
    expectRelative(two.protectedByF, 0.1, 1e-10);
    expect(two.protectedIsExact).toBe(true);
    expect(two.protectedOneDiffers).toBeNull();
  });

  it('with one treatment apart, protection leaves what one treatment fewer has unprotected', () => {
    const eight = falseRealChance(8, 21, 0.05);
    const seven = falseRealChance(7, 21, 0.05);
    expect(accepted(eight).protectedOneDiffers).toBe(accepted(seven).unprotected);
  });

  it('against a check lies between one comparison and the sum of all, and below all pairs', () => {
    for (const treatments of [3, 5, 9]) {
      const got = chance(treatments, 4);
      expect(got.againstCheck).toBeGreaterThan(0.05);
      expect(got.againstCheck).toBeLessThan(0.05 * (treatments - 1));
      expect(got.againstCheck).toBeLessThan(got.unprotected);
    }
  });

  it('refuses one treatment, no error df, alpha out of range', () => {
    expect(refusalOf(falseRealChance(1, 3, 0.05)).code).toBe('tooFewTreatments');
    expect(refusalOf(falseRealChance(3, 0, 0.05)).code).toBe('noErrorDf');
    expect(refusalOf(falseRealChance(3, 4, 0.9)).code).toBe('alphaOutOfRange');
    expect(() => falseRealChance(2.5, 4, 0.05)).toThrow('2.5');
  });
});
