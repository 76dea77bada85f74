import { describe, expect, it } from 'vitest';
import { chiSquaredUpperTail } from '../../analyses/distributions/chi-squared.ts';
import { quickGenerator } from '../../analyses/quick-generator.ts';

/** sfc32 written once more, in 64-bit whole numbers, straight from its definition. */
function plainSfc32(seed: number): () => bigint {
  const mask = 0xffffffffn;
  let [a, b, c, counter] = [BigInt(seed) & mask, BigInt(seed) >> 32n, 0n, 1n];
  return () => {
    const sum = (a + b + counter) & mask;
    counter = (counter + 1n) & mask;
    a = b ^ (b >> 9n);
    b = (c + ((c << 3n) & mask)) & mask;
    c = ((((c << 21n) & mask) | (c >> 11n)) + sum) & mask;
    return sum;
  };
}

describe('the quick generator', () => {
  it('gives the numbers of its definition, step by step', () => {
    for (const seed of [0, 1, 20_260_301, Number.MAX_SAFE_INTEGER]) {
      const plain = plainSfc32(seed);
      for (let step = 0; step < 12; step++) plain();
      const quick = quickGenerator(seed);
      for (let i = 0; i < 200; i++) {
        const bits = ((plain() >> 5n) << 26n) | (plain() >> 6n);
        expect(quick()).toBe(Number(bits) / 2 ** 53);
      }
    }
  });

  it('spreads pairs of draws evenly over the unit square (chi-squared over 400 cells, p between 1e-5 and 1 - 1e-5)', () => {
    const random = quickGenerator(7);
    const cells = new Array<number>(400).fill(0);
    const draws = 200_000;
    for (let i = 0; i < draws; i++) cells[20 * Math.floor(20 * random()) + Math.floor(20 * random())]! += 1;
    const expected = draws / 400;
    const p = chiSquaredUpperTail(
      cells.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0),
      399,
    );
    expect(p).toBeGreaterThan(1e-5);
    expect(p).toBeLessThan(1 - 1e-5);
  });

  it('refuses a seed that is no whole number', () => {
    for (const seed of [-1, 0.5, Number.NaN, 2 ** 60]) expect(() => quickGenerator(seed)).toThrow(RangeError);
  });
});
