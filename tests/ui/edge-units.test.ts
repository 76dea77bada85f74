import { describe, expect, it } from 'vitest';
import { findUnit } from '../../src/intake/known-units.ts';
import { COLUMN_ROLES } from '../../src/intake/recognition.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import { readNumber, shownNumber, unitOf } from '../../src/ui/edge-units.ts';
import { unitsOffered } from '../../src/ui/stages/column-units.ts';

const metric = newTrial('Metric');
const us = { ...newTrial('US'), unitSystem: 'us' as const, crop: 'maize' };

describe('quantities at the edge', () => {
  it('shows speeds by the exact mile (1609.344 m, 1959 international agreement) and the kilometre', () => {
    expect(shownNumber(0.44704, unitOf('speed', us))).toBe('1');
    expect(shownNumber(1, unitOf('speed', metric))).toBe('3.6');
  });

  it('shows a price per bushel as 56 pounds of maize (US trade bushel, pound of 0.45359237 kg)', () => {
    expect(shownNumber(5 / (56 * 0.45359237), unitOf('price', us))).toBe('5');
    expect(shownNumber(0.2, unitOf('price', metric))).toBe('200');
  });

  it('shows small rates by the fluid ounce, ounce, millilitre and gram (NIST Handbook 44, appendix C)', () => {
    // 6.4 fl oz of 128 in 3.785411784 L, on an acre of 0.40468564224 ha.
    const perHa = ((6.4 / 128) * 3.785411784) / 0.40468564224;
    expect(shownNumber(perHa, unitOf('smallVolumePerLand', us))).toBe('6.4');
    // 3 oz of 16 in 0.45359237 kg.
    expect(shownNumber(((3 / 16) * 0.45359237) / 0.40468564224, unitOf('smallMassPerLand', us))).toBe('3');
    expect(shownNumber(0.25, unitOf('smallVolumePerLand', metric))).toBe('250');
    expect(shownNumber(0.25, unitOf('smallMassPerLand', metric))).toBe('250');
  });

  it('reads back what it shows', () => {
    for (const quantity of ['yield', 'length', 'speed', 'price', 'moneyPerLand'] as const) {
      const unit = unitOf(quantity, us);
      const read = readNumber('12.5', unit);
      expect(read.ok && shownNumber(read.si, unit)).toBe('12.5');
    }
  });

  it('takes a point or a comma, a blank as not known, and nothing else', () => {
    const plain = unitOf('plain', metric);
    expect(readNumber(' 1,5 ', plain)).toEqual({ ok: true, si: 1.5 });
    expect(readNumber('', plain)).toEqual({ ok: true, si: null });
    for (const text of ['1.2.3', '1,000.5', 'ten', '0x10', 'Infinity', 'NaN', '-']) {
      expect(readNumber(text, plain), text).toEqual({ ok: false });
    }
  });

  it('offers only units that the reader of files knows', () => {
    const offered = COLUMN_ROLES.flatMap(unitsOffered);
    expect(offered.length).toBeGreaterThan(20);
    expect(offered.filter((unit) => findUnit(unit) === null)).toEqual([]);
  });
});
