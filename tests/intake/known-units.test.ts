import { describe, expect, test } from 'vitest';
import { takeHeadingApart } from '../../src/intake/heading-parts.ts';
import { findUnit, measures, type Quantity, UNITS_OFFERED } from '../../src/intake/known-units.ts';

/**
 * Exact by definition: international pound 0.45359237 kg, foot 0.3048 m (1959 agreement of the national standards
 * laboratories; NIST Special Publication 811, appendix B), acre of the international foot 43 560 ft², mile 5280 ft.
 * US liquid measures: gallon 231 cubic inches = 3.785411784 L, quart 0.946352946 L, pint 0.473176473 L, fluid ounce
 * 29.5735295625 mL, and the avoirdupois ounce 28.349523125 g (NIST Handbook 44, appendix C).
 * The last column is then arithmetic, written out here as fractions and not taken from the code.
 */
const ACRE_M2 = 43_560 * 0.3048 ** 2;
const VECTORS: readonly (readonly [string, number])[] = [
  ['kg/ha', 1],
  ['t/ha', 1000],
  ['dt/ha', 100],
  ['g/m2', 10],
  ['kg/m²', 10_000],
  ['lb/ac', (0.45359237 / ACRE_M2) * 10_000],
  ['short ton/ac', ((2000 * 0.45359237) / ACRE_M2) * 10_000],
  ['L/ha', 1],
  ['mL/ha', 0.001],
  ['gal/ac', (3.785411784 / ACRE_M2) * 10_000],
  ['qt/ac', (0.946352946 / ACRE_M2) * 10_000],
  ['pt/ac', (0.473176473 / ACRE_M2) * 10_000],
  ['fl oz/ac', (0.0295735295625 / ACRE_M2) * 10_000],
  ['oz wt/ac', (0.028349523125 / ACRE_M2) * 10_000],
  ['kg/s', 1],
  ['lb/s', 0.45359237],
  ['lb/h', 0.45359237 / 3600],
  ['t/h', 1000 / 3600],
  ['kg', 1],
  ['lb', 0.45359237],
  ['m/s', 1],
  ['km/h', 1 / 3.6],
  ['mph', (5280 * 0.3048) / 3600],
  ['ft/s', 0.3048],
  ['m', 1],
  ['ft', 0.3048],
  ['in', 0.0254],
  ['ha', 10_000],
  ['ac', ACRE_M2],
  ['ft2', 0.09290304],
  ['%', 1],
  ['share', 100],
  ['s', 1],
  ['min', 60],
  ['deg', 1],
];

describe('findUnit', () => {
  test.each(VECTORS)('%s in the unit used inside is %d', (unit, factor) => {
    expect(Math.abs((findUnit(unit)?.factor ?? 0) / factor - 1)).toBeLessThan(4 * Number.EPSILON);
  });

  test('a bushel per acre times pounds per bushel gives the trade figure', () => {
    // 62.77 kg/ha per bu/ac of maize, 67.25 of soybean and wheat (USDA grain weights of 56 and 60 lb; extension tables).
    const unit = findUnit('bu/ac');
    expect(unit?.inBushels).toBe(true);
    expect((unit?.factor ?? 0) * 56).toBeCloseTo(62.7677, 3);
    expect((unit?.factor ?? 0) * 60).toBeCloseTo(67.2511, 3);
  });

  test.each([
    [
      'kg/ha',
      ['kg ha-1', 'kg ha^-1', 'kg ha⁻¹', 'kg per ha', 'kg_per_ha', 'KG/HA', 'kilograms / hectare', 'kgha-1'],
    ],
    ['bu/ac', ['bushels per acre', 'bu ac-1', 'Bu/Acre']],
    ['m/s', ['m s-1', 'meters per second', 'm/sec']],
    ['km/h', ['kmh', 'kph', 'km h-1', 'km/hr']],
  ])('spellings of %s', (name, spellings) => {
    for (const spelling of spellings) expect([spelling, findUnit(spelling)?.name]).toEqual([spelling, name]);
  });

  test('"ton" alone, which is two masses, and nonsense are not units', () => {
    for (const text of ['ton/ac', 'ton', 'bananas', 'kg/ha/s', 'm/ha', '', '/', 'ha/kg']) {
      expect([text, findUnit(text)]).toEqual([text, null]);
    }
  });

  test('an ounce per acre measures nothing until it is said whether by mass or by volume', () => {
    for (const unit of ['oz/ac', 'oz per acre'])
      expect(measures(findUnit(unit), 'applicationRate')).toBe(false);
  });

  test('every unit offered in a question is known and measures the quantity', () => {
    for (const [quantity, units] of Object.entries(UNITS_OFFERED)) {
      for (const unit of units)
        expect([unit, measures(findUnit(unit), quantity as Quantity)]).toEqual([unit, true]);
    }
  });
});

describe('takeHeadingApart', () => {
  test.each([
    ['Yield (bu/ac)', ['yield'], 'bu/ac'],
    ['yield_kg_ha', ['yield'], 'kg/ha'],
    ['Moisture %', ['moisture'], '%'],
    ['GRAIN MOIST', ['grain', 'moist'], null],
    ['yield_lb_per_ac', ['yield'], 'lb/ac'],
    ['Yield_t_ha_dry', ['yield', 'dry'], 't/ha'],
    ['Yield t ha-1', ['yield'], 't/ha'],
    ['massFlow_kg_s', ['mass', 'flow'], 'kg/s'],
    ['Swath width [ft]', ['swath', 'width'], 'ft'],
    ['Fläche (m²)', ['flache'], 'm2'],
    ['Heading (°)', ['heading'], 'deg'],
    ['Yield (dry) (t/ha)', ['yield', 'dry'], 't/ha'],
  ])('%s', (heading, words, unit) => {
    const parts = takeHeadingApart(heading);
    expect([parts.words, parts.unit?.name ?? null]).toEqual([words, unit]);
  });
});
