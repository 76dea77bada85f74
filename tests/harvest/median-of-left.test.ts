import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { medianOfLeft } from '../../src/harvest/median-of-left.ts';

const points = fc.array(
  fc.tuple(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }), fc.nat({ max: 2 })),
);

function left(file: readonly (readonly [number, number])[]) {
  const yieldAtStandardKgPerHa = Float64Array.from(file, ([value]) => value);
  return { file: { yieldAtStandardKgPerHa }, reason: Uint8Array.from(file, ([, reason]) => reason) };
}

describe('the middle of the yields that are left', () => {
  it('is the lower middle of the sorted ones, over all files (definition)', () => {
    fc.assert(
      fc.property(fc.array(points), (files) => {
        const sorted = files
          .flat()
          .filter(([, reason]) => reason === 0)
          .map(([value]) => value)
          .sort((a, b) => a - b);
        const found = medianOfLeft(files.map(left));
        const middle = sorted[(sorted.length - 1) >> 1] ?? null;
        expect(found === null ? null : found + 0).toBe(middle === null ? null : middle + 0);
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });

  it('holds where many are equal and one lies far off', () => {
    const many = Array.from({ length: 9999 }, (_, i) => [i < 5000 ? 7 : 8, 0] as const);
    expect(medianOfLeft([left([...many, [1e6, 0]])])).toBe(7);
    expect(medianOfLeft([left([])])).toBeNull();
  });
});
