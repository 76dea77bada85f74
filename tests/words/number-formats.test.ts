import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chanceText,
  decimalsFor,
  fixed,
  levelPercent,
  money,
  percentOf,
  pPhrase,
  pValue,
  signed,
  signedBound,
  significant,
} from '../../src/words/number-formats.ts';

describe('p values', () => {
  it('are never shown as 0.000 or 1.000, and never rounded onto a level they did not reach', () => {
    expect(pValue(0)).toBe('< 0.001');
    expect(pValue(0.00099)).toBe('< 0.001');
    expect(pValue(0.0014)).toBe('0.001');
    expect(pValue(0.9999)).toBe('> 0.999');
    expect(pValue(0.05)).toBe('0.050');
    expect(pValue(0.0498)).toBe('0.0498');
    expect(pValue(0.0502)).toBe('0.0502');
    expect(pValue(null)).toBe('-');
    expect(pPhrase(0.0001)).toBe('p < 0.001');
    expect(pPhrase(0.112809)).toBe('p = 0.113');
  });

  it('stay within half a unit of the last digit shown', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), (p) => {
        expect(Math.abs(Number(pValue(p)) - p)).toBeLessThanOrEqual(0.0005 + 1e-12);
      }),
    );
  });
});

describe('numbers', () => {
  it('have no negative zero and no exponent at ordinary sizes', () => {
    expect(fixed(-0.0001, 2)).toBe('0.00');
    expect(signed(-0.0001, 2)).toBe('0.00');
    expect(signed(0.0001, 2)).toBe('0.00');
    expect(signed(0.256, 2)).toBe('+0.26');
    expect(signed(-0.256, 2)).toBe('-0.26');
    expect(fixed(1234567.5, 0)).toBe('1234568');
    expect(fixed(Number.NaN, 2)).toBe('-');
  });

  it('never round the end of an interval onto zero that leaves zero out', () => {
    expect([0.0004, -0.0004, 0, 0.04, null].map((end) => signedBound(end, 1))).toEqual([
      '+0.0004',
      '-0.0004',
      '0.0',
      '+0.04',
      '-',
    ]);
    fc.assert(
      fc.property(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), fc.nat(6), (end, decimals) => {
        expect(Math.sign(Number(signedBound(end, decimals))) === Math.sign(end)).toBe(true);
      }),
    );
  });

  it('are rounded to significant digits by value', () => {
    expect(significant(501.13640505709, 4)).toBe('501.1');
    expect(significant(0.0001234, 2)).toBe('0.00012');
    expect(significant(99.96, 3)).toBe('100');
    expect(significant(0, 3)).toBe('0');
    fc.assert(
      fc.property(fc.double({ min: 1e-5, max: 1e9, noNaN: true }), (value) => {
        expect(Math.abs(Number(significant(value, 4)) / value - 1)).toBeLessThanOrEqual(5.0001e-4);
      }),
    );
  });

  it('show two digits of the standard error', () => {
    expect(decimalsFor(166.25, 4959)).toBe(0);
    expect(decimalsFor(0.0456, 5.2)).toBe(3);
    expect(decimalsFor(1.7, 80)).toBe(1);
    expect(decimalsFor(null, 80.2)).toBe(2);
    expect(decimalsFor(null, null)).toBe(2);
  });

  it('never call a chance certain, or none', () => {
    for (const [chance, text] of [
      [0.0004, '< 0.1 %'],
      [0.9951, '99.5 %'],
      [0.9989, '99.9 %'],
      [0.9999, '> 99.9 %'],
      [0.5, '50 %'],
    ] as const)
      expect(chanceText(chance)).toBe(text);
  });

  it('name the level of an interval, and no other', () => {
    const levels = [0.95, 1 - 0.05, 0.975, 0.999, 0.998, 0.8, 1 - 0.05 / 3];
    const shown = ['95 %', '95 %', '97.5 %', '99.9 %', '99.8 %', '80 %', '98.33 %'];
    expect(levels.map(levelPercent)).toEqual(shown);
  });

  it('read as percent and as money', () => {
    expect(percentOf(0.95)).toBe('95 %');
    expect(percentOf(0.9)).toBe('90 %');
    expect(percentOf(0.975)).toBe('97.5 %');
    expect(percentOf(0.1834)).toBe('18 %');
    expect(percentOf(0.0041)).toBe('0.41 %');
    expect(money(12.345, 'EUR/ha')).toBe('12.35 EUR/ha');
    expect(money(-1234.5, 'EUR/ha')).toBe('-1235 EUR/ha');
    expect(money(null, 'EUR/ha')).toBe('-');
  });
});
