import { describe, expect, it } from 'vitest';
import { breakEven, totalCostPerHa } from '../../src/trial/break-even.ts';
import { CROPS, findCrop } from '../../src/trial/crops.ts';
import { landUnit, lengthUnit, moneyPerLandUnit, yieldUnit } from '../../src/trial/display-units.ts';
import * as units from '../../src/trial/units.ts';
import { smallTrial } from './trials.ts';

describe('units', () => {
  it('are the exact definitions', () => {
    // International pound and foot (1959); acre = 43,560 square feet; US gallon = 231 cubic inches.
    expect(units.KG_PER_POUND).toBe(0.45359237);
    expect(units.M_PER_FOOT).toBe(0.3048);
    expect(units.HA_PER_ACRE).toBeCloseTo((43560 * 0.3048 ** 2) / 10000, 15);
    expect(units.LITRES_PER_US_GALLON).toBeCloseTo(231 * 0.254 ** 3, 14);
    expect(units.M_PER_MILE).toBeCloseTo(5280 * 0.3048, 11);
  });

  it('turn kg/ha into bushels per acre by the crop', () => {
    // kg/ha per bu/ac = 1.12085115617 times the pounds in a bushel (from the exact definitions above).
    expect(units.kgPerHaPerBushelPerAcre(1)).toBeCloseTo(1.12085115617, 10);
    const maize = yieldUnit({ unitSystem: 'us', crop: 'corn' });
    expect(maize.label).toBe('bu/ac');
    expect(62.76766 * 160 * maize.perSi).toBeCloseTo(160, 4);
    expect(yieldUnit({ unitSystem: 'us', crop: 'lupin' }).label).toBe('lb/ac');
    expect(yieldUnit({ unitSystem: 'metric', crop: 'maize' })).toEqual({ label: 't/ha', perSi: 0.001 });
  });

  it('show lengths, land and money per land in the system chosen', () => {
    expect(304.8 * lengthUnit('us').perSi).toBeCloseTo(1000, 10);
    expect(landUnit('us').perSi * 0.40468564224).toBeCloseTo(1, 14);
    const economics = { pricePerKg: null, currency: 'USD' };
    const money = moneyPerLandUnit({ unitSystem: 'us', economics });
    expect(money.label).toBe('USD/ac');
    expect(100 * money.perSi).toBeCloseTo(40.468564224, 9);
    expect(moneyPerLandUnit({ unitSystem: 'metric', economics: { ...economics, currency: ' ' } }).label).toBe(
      'money/ha',
    );
  });

  it('give each crop a bushel, a standard moisture and limits that hold it', () => {
    for (const crop of CROPS) {
      expect(crop.standardMoisturePercent).toBeGreaterThan(crop.moistureMinPercent);
      expect(crop.standardMoisturePercent).toBeLessThan(crop.moistureMaxPercent);
      expect(findCrop(` ${crop.id.toUpperCase()} `)).toBe(crop);
    }
    expect(findCrop(null)).toBeNull();
  });
});

describe('break-even', () => {
  const [check, leaf] = smallTrial().treatments as [Treatment, Treatment];
  const priced = smallTrial({ economics: { pricePerKg: 0.21, currency: 'EUR' } });

  it('is extra cost over price, and turns its sign with the pair', () => {
    // 42 EUR/ha at 0.21 EUR/kg: 200 kg/ha.
    const there = breakEven(priced, leaf, check);
    const back = breakEven(priced, check, leaf);
    expect(there.known && there.kgPerHa).toBeCloseTo(200, 10);
    expect(back.known && back.kgPerHa).toBeCloseTo(-200, 10);
  });

  it('takes an unknown cost for nothing in a check alone', () => {
    expect(totalCostPerHa(check)).toBe(0);
    expect(totalCostPerHa({ ...check, isCheck: false })).toBeNull();
    expect(totalCostPerHa({ ...leaf, applicationCostPerHa: null })).toBe(30);
    expect(totalCostPerHa({ ...leaf, costPerHa: null })).toBe(12);
  });

  it('names everything that is missing', () => {
    const unknown = { ...leaf, costPerHa: null, applicationCostPerHa: null };
    expect(breakEven(smallTrial(), unknown, check)).toEqual({
      known: false,
      missing: ['pricePerKg', 'costPerHa of Leaf feed'],
    });
  });
});

type Treatment = ReturnType<typeof smallTrial>['treatments'][number];
