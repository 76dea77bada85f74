import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalColumn } from '../../src/intake/decimal-column.ts';
import { codesOf, problemOf, taken } from './as-bytes.ts';

const HERE = { file: 'a.csv', heading: 'yield' };

/** Decimal text as an exact fraction n / 10^d; written here anew, so that the law does not lean on the code. */
function fraction(text: string): { n: bigint; d: bigint } {
  const match = /^([+-]?)(\d*)\.?(\d*)(?:e([+-]?\d+))?$/i.exec(text);
  if (match === null) throw new Error(`not a decimal: ${text}`);
  const [, sign, whole = '', part = '', exponent = '0'] = match;
  const power = BigInt(exponent) - BigInt(part.length);
  const n = BigInt(`${whole}${part}` || '0') * (sign === '-' ? -1n : 1n);
  return power >= 0n ? { n: n * 10n ** power, d: 1n } : { n, d: 10n ** -power };
}

/** A double as an exact fraction, from its bits (IEEE 754). */
function exactly(value: number): { n: bigint; d: bigint } {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, value);
  const bits = view.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const mantissa = (bits & 0xfffffffffffffn) | (exponent === 0 ? 0n : 1n << 52n);
  const signed = bits >> 63n ? -mantissa : mantissa;
  const power = (exponent === 0 ? 1 : exponent) - 1075;
  return power >= 0 ? { n: signed << BigInt(power), d: 1n } : { n: signed, d: 1n << BigInt(-power) };
}

function distance(value: number, target: { n: bigint; d: bigint }): { n: bigint; d: bigint } {
  const { n, d } = exactly(value);
  const difference = n * target.d - target.n * d;
  return { n: difference < 0n ? -difference : difference, d: d * target.d };
}

function isNearest(value: number, target: { n: bigint; d: bigint }): boolean {
  const own = distance(value, target);
  return neighbours(value).every((other) => {
    const its = distance(other, target);
    return own.n * its.d <= its.n * own.d;
  });
}

function neighbours(value: number): number[] {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, value);
  const bits = view.getBigUint64(0);
  if (value === 0) return [Number.MIN_VALUE, -Number.MIN_VALUE];
  return [bits + 1n, bits - 1n].map((near) => {
    view.setBigUint64(0, near);
    return view.getFloat64(0);
  });
}

const decimal = fc
  .tuple(fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }), fc.integer({ min: 0, max: 12 }))
  .map(([n, places]) => {
    const digits = (n < 0n ? -n : n).toString().padStart(places + 1, '0');
    const cut = digits.length - places;
    return `${n < 0n ? '-' : ''}${digits.slice(0, cut)}${places === 0 ? '' : `.${digits.slice(cut)}`}`;
  });

describe('decimalColumn', () => {
  test('each deviation is the double nearest to the exact decimal difference (law, by fractions of BigInt)', () => {
    fc.assert(
      fc.property(fc.array(decimal, { minLength: 1, maxLength: 12 }), (texts) => {
        const column = taken(decimalColumn(texts, { ...HERE, decimals: { mark: '.', proven: true } }));
        const origin = fraction(column.originText);
        texts.forEach((text, i) => {
          const value = fraction(text);
          const target = { n: value.n * origin.d - origin.n * value.d, d: value.d * origin.d };
          expect(isNearest(column.deviations[i] ?? Number.NaN, target)).toBe(true);
        });
      }),
      { numRuns: 300, seed: 20240901 },
    );
  });

  test('NIST SmLs07: the last digit of 1000000000000.4 survives', () => {
    // NIST StRD, one-way analysis of variance, SmLs07: the response begins 1000000000000.4, .3, .5, .3, .5
    // (fixtures/intake-numbers/SOURCE.md).
    const lines = readFileSync('fixtures/intake-numbers/smls07-start.txt', 'utf8').trim().split('\n');
    const column = taken(decimalColumn(lines, HERE));
    expect(column.originText).toBe('1000000000000.4');
    expect([...new Set(column.deviations)].sort()).toEqual([-0.1, 0, 0.1]);
    expect(Number('1000000000000.3') - Number('1000000000000.4')).not.toBe(-0.1);
  });

  test('adding a constant to every value changes no deviation, reordering rows only their order (laws)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -9999, max: 9999 }), { minLength: 1, maxLength: 9 }),
        (numbers) => {
          const plain = taken(
            decimalColumn(
              numbers.map((n) => `${n}.5`.replace('-', '')),
              HERE,
            ),
          );
          const shifted = taken(
            decimalColumn(
              numbers.map((n) => `7000000000000${String(Math.abs(n)).padStart(4, '0')}.5`),
              HERE,
            ),
          );
          expect(shifted.deviations).toEqual(plain.deviations);
          const turned = taken(decimalColumn(numbers.map((n) => `${n}.5`.replace('-', '')).reverse(), HERE));
          expect([...turned.deviations].reverse()).toEqual(plain.deviations);
        },
      ),
      { numRuns: 100, seed: 3 },
    );
  });

  test.each([
    ['signs and exponents', ['+1.5', '-2.5e1', '3E2', '.5', '5.'], [1.5, -25, 300, 0.5, 5]],
    ['decimal comma', ['12,5', '1.234,5', '7'], [12.5, 1234.5, 7]],
    [
      'thousands where the point is proven',
      ['1,234.5', '2,345', '1,234,567', '0.5'],
      [1234.5, 2345, 1234567, 0.5],
    ],
    ['spaces and apostrophes between groups', ['1 234,5', '12 345,0', "1'234,5"], [1234.5, 12345, 1234.5]],
    ['the minus sign of typography', ['\u22121.5', '2.5'], [-1.5, 2.5]],
  ])('reads %s', (_, cells, values) => {
    const { origin, deviations } = taken(decimalColumn(cells, HERE));
    expect(deviations.map((deviation) => origin + (deviation ?? Number.NaN))).toEqual(values);
  });

  test('blank, NA and . are lost plots, counted with their rows', () => {
    const outcome = decimalColumn(['1', '', 'NA', ' . ', 'na', '2'], HERE);
    expect(taken(outcome).deviations).toEqual([0, null, null, null, null, 1]);
    expect(problemOf(outcome, 'lostPlots').details).toEqual({ count: 4, rows: ['3', '4', '5', '6'] });
  });

  test.each(['abc', 'Infinity', '-inf', 'NaN', '1e999', '0x10', '1.2.3', '12%', '1,23,4', '--1', '1e', '∞'])(
    'refuses %s with its row',
    (text) => {
      const outcome = decimalColumn(['1.5', text, '2.5'], HERE);
      expect(outcome.ok).toBe(false);
      expect(problemOf(outcome, 'notANumber')).toMatchObject({
        row: 3,
        column: 'yield',
        details: { text, count: 1 },
      });
    },
  );

  test('a comma before three digits is refused unless something proves what it is', () => {
    expect(codesOf(decimalColumn(['1,234', '2,345'], HERE))).toEqual(['ambiguousNumber']);
    const semicolon = { ...HERE, decimals: { mark: ',', proven: false } } as const;
    expect(codesOf(decimalColumn(['1.234', '2.345'], semicolon))).toEqual(['ambiguousNumber']);
    expect(taken(decimalColumn(['1,234', '2,345'], semicolon)).origin).toBe(1.234);
    expect(taken(decimalColumn(['0,234', '2,345'], HERE)).origin).toBe(0.234);
  });

  test('points and commas as decimals in one column are refused', () => {
    expect(problemOf(decimalColumn(['1.5', '2,5', '3.5'], HERE), 'mixedDecimalMarks').row).toBe(3);
  });

  test('a column without a number is refused', () => {
    expect(codesOf(decimalColumn(['', 'NA'], HERE))).toEqual(['noValues']);
  });
});
