import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { atMoisture } from '../../src/harvest/moisture.ts';
import { chooseMoistureCorrection, correctionFactor } from '../../src/harvest/moisture-correction.ts';
import type { YieldColumnAnswers } from '../../src/trial/trial-document.ts';

/** fixtures/moisture-examples/SOURCE.md. */
const EXAMPLES = new URL('../../fixtures/moisture-examples/moisture_examples.csv', import.meta.url);

describe('grain at standard moisture', () => {
  it('agrees with the worked examples', () => {
    const lines = readFileSync(EXAMPLES, 'utf8').trim().split(/\r?\n/);
    expect(lines[0]).toBe('wet_weight,moisture_pct,std_pct,adjusted_weight,per_point_factor');
    expect(lines.length).toBe(6);
    for (const line of lines.slice(1)) {
      const [wet, moisture, standard, adjusted] = line.split(',').map(Number) as [
        number,
        number,
        number,
        number,
      ];
      expect(atMoisture(wet, moisture, standard)).toBeCloseTo(adjusted, 9);
    }
  });

  it('is 9,467.5 lb for 10,000 lb at 20 % brought to 15.5 % (UF/IFAS AG442), not 9,240', () => {
    expect(atMoisture(10_000, 20, 15.5)).toBeCloseTo(9467.5, 1);
  });

  it('keeps dry matter: there and back is nothing, and dry grain weighs its dry matter', () => {
    expect(atMoisture(atMoisture(8123, 18.3, 13), 13, 18.3)).toBeCloseTo(8123, 9);
    expect(atMoisture(100, 20, 0)).toBe(80);
  });

  it('refuses a moisture that cannot be', () => {
    for (const moisture of [-1, 100, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => atMoisture(1, moisture, 13)).toThrow(RangeError);
      expect(() => atMoisture(1, 13, moisture)).toThrow(RangeError);
    }
  });
});

describe('how a column comes to standard', () => {
  const answers = (given: Partial<YieldColumnAnswers>): YieldColumnAnswers => ({
    heading: 'h',
    moistureBasis: null,
    atMoisturePercent: null,
    lagAppliedS: null,
    alreadyFiltered: null,
    loggedPosition: null,
    ...given,
  });
  const said = (given: Partial<YieldColumnAnswers>, hasMoisture: boolean, standard: number | null) => {
    const { correction, assumptions } = chooseMoistureCorrection('f', answers(given), hasMoisture, standard);
    return [correction.kind, ...assumptions.map(({ code }) => code)];
  };

  it('corrects nothing twice where the heading says dry and nobody answered', () => {
    for (const heading of ['Yield dry (t/ha)', 'Yld_Vol_Dry', 'Ertrag trocken'])
      expect(said({ heading }, true, 13)).toEqual(['none', 'headingSaysDry']);
    expect(said({ heading: 'Yield dry', moistureBasis: 'wet' }, true, 13)).toEqual(['byPoint']);
    expect(said({ heading: 'Yield drying' }, true, 13)).toEqual(['byPoint', 'moistureBasisAssumedWet']);
  });

  it('follows the answer, and says what it took for granted', () => {
    expect(said({ moistureBasis: 'wet' }, true, 13)).toEqual(['byPoint']);
    expect(said({ moistureBasis: 'wet' }, false, 13)).toEqual(['none', 'noMoistureColumn']);
    expect(said({ moistureBasis: 'wet' }, true, null)).toEqual(['none', 'noStandardMoisture']);
    expect(said({ moistureBasis: 'standard' }, true, 13)).toEqual(['none']);
    expect(said({ moistureBasis: 'percent', atMoisturePercent: 0 }, false, 13)).toEqual(['constant']);
    expect(said({ moistureBasis: 'percent' }, true, 13)).toEqual(['none', 'moistureOfYieldUnknown']);
    expect(said({}, true, 13)).toEqual(['byPoint', 'moistureBasisAssumedWet']);
    expect(said({}, false, 13)).toEqual(['none', 'noMoistureColumn']);
    expect(said({}, true, null)).toEqual(['none', 'noStandardMoisture']);
  });

  it('turns dry matter to 15 % by 100 / 85, and has no factor for a missing moisture', () => {
    expect(
      correctionFactor({ kind: 'constant', fromPercent: 0, standardPercent: 15 }, Number.NaN),
    ).toBeCloseTo(100 / 85, 12);
    expect(correctionFactor({ kind: 'byPoint', standardPercent: 15 }, Number.NaN)).toBeNaN();
    expect(correctionFactor({ kind: 'none' }, Number.NaN)).toBe(1);
  });
});
