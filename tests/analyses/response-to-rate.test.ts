import { describe, expect, it } from 'vitest';
import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { tTwoSidedP } from '../../analyses/distributions/t.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { rateOfBestReturn } from '../../analyses/rate-of-best-return.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { responseToRate } from '../../analyses/response-to-rate.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  labels,
  numbers,
  refusalOf,
  type Table,
} from './fixture-data.ts';

interface Expected {
  readonly ss: readonly number[];
  readonly df: readonly number[];
  readonly p: readonly number[];
  readonly error_ms: number;
  readonly error_df: number;
  readonly slope: number;
  readonly slope_se: number;
  readonly curvature: number;
  readonly curvature_se: number;
  readonly cost: number;
  readonly alpha: number;
  readonly rate: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

const want = fixtureExpected<Readonly<Record<string, Expected>>>('steel-soybean-spacing');
const soybean = fixtureTable('steel-soybean-spacing/data.csv');
const seeding = fixtureTable('gomez-seeding-rate/data.csv');
/** R counts rows from 1: 3, 11 and 29. */
const withoutLost = soybean.filter((_, i) => ![2, 10, 28].includes(i));

interface Series {
  readonly means: AdjustedMeans;
  readonly rates: readonly number[];
}

function series(table: Table, yields: string, block: string, rate: string, sign = 1): Series {
  const values = numbers(table, yields).map((value) => sign * value);
  const fit = accepted(
    fitLinearModel(responseFromValues(values), [factor(table, block), factor(table, rate)]),
  );
  return { means: accepted(adjustedMeans(fit, rate)), rates: labels(table, rate).map(Number) };
}

const ofSoybean = (table: Table, sign = 1) => series(table, 'yield', 'block', 'spacing', sign);

describe('polynomials of a rate against R (lm on the plots; fixtures/steel-soybean-spacing)', () => {
  it.each([
    ['soybean', ofSoybean(soybean)],
    ['soybean_without_30', ofSoybean(soybean.filter((row) => row.spacing !== '30'))],
    ['soybean_lost', ofSoybean(withoutLost)],
    ['soybean_turned', ofSoybean(soybean, -1)],
    ['soybean_turned_lost_cost', ofSoybean(withoutLost, -1)],
    ['seeding_rate', series(seeding, 'yield', 'rep', 'rate')],
  ] as const)('%s', (name, { means, rates }) => {
    const expected = want[name]!;
    const got = accepted(responseToRate(means, rates, expected.alpha));
    expect(got.lines.map((line) => line.source)).toEqual(['linear', 'quadratic', 'lackOfFit']);
    expect(got.lines.map((line) => line.df)).toEqual(expected.df);
    got.lines.forEach((line, i) => {
      expectRelative(line.ss, expected.ss[i]!, 1e-9, line.source);
      expectRelative(line.p, expected.p[i]!, 1e-9, line.source);
    });
    expect(got.errorDf).toBe(expected.error_df);
    expectRelative(got.slope.estimate, expected.slope, 1e-10);
    expectRelative(got.slope.standardError, expected.slope_se, 1e-10);
    expectRelative(got.curvature!.estimate, expected.curvature, 1e-9);
    expectRelative(got.curvature!.standardError, expected.curvature_se, 1e-9);
    expectRelative(got.curvature!.p, got.lines[1]!.p, 1e-9, 'curvature is the quadratic line');
    const best = rateOfBestReturn(got, expected.cost);
    if (expected.lower === null) {
      const refused = refusalOf(best);
      expect(refused.code).toBe(expected.curvature > 0 ? 'bendsUpwards' : 'bendNotDistinguishable');
      return;
    }
    const accept = accepted(best);
    expectRelative(accept.rate, expected.rate, 1e-9);
    expectRelative(accept.lower, expected.lower, 1e-9);
    if (expected.upper! > 42) expect(accept.upper).toBeNull();
    else expectRelative(accept.upper, expected.upper!, 1e-9);
  });

  it('soybean row spacing, to the digits printed (Steel & Torrie; from memory)', () => {
    const { means, rates } = ofSoybean(soybean);
    const { lines } = accepted(responseToRate(means, rates, 0.05));
    expect(lines.map((line) => line.ss.toFixed(2))).toEqual(['91.27', '33.69', '0.70']);
    expect((means.error.df * means.error.ms!).toFixed(2)).toBe('73.92');
  });

  it('seeding rate: linear 760,035 and quadratic 74,405 (Gomez & Gomez 1984, section 5.2.3; from memory)', () => {
    const { means, rates } = series(seeding, 'yield', 'rep', 'rate');
    const { lines } = accepted(responseToRate(means, rates, 0.05));
    expect(lines.map((line) => Math.round(line.ss)).slice(0, 2)).toEqual([760035, 74405]);
    expect(lines[0]!.f.toFixed(2)).toBe('6.87');
  });
});

describe('laws', () => {
  const { means, rates } = ofSoybean(soybean, -1);
  const fit = accepted(responseToRate(means, rates, 0.05));

  it('the unit of the rate changes nothing but the unit of its results', () => {
    const metric = accepted(
      responseToRate(
        means,
        rates.map((rate) => 2.54 * rate + 7),
        0.05,
      ),
    );
    metric.lines.forEach((line, i) => {
      expectRelative(line.ss, fit.lines[i]!.ss, 1e-10);
    });
    const [a, b] = [accepted(rateOfBestReturn(metric, 0.1)), accepted(rateOfBestReturn(fit, 0.254))];
    expectRelative(a.rate, 2.54 * b.rate + 7, 1e-9);
    expectRelative(a.lower, 2.54 * b.lower! + 7, 1e-9);
    expectRelative(a.response, b.response, 1e-10);
  });

  it('dearer means less; at the ends of the interval the slope just differs from the cost', () => {
    const [free, dear] = [0, 0.2].map((cost) => accepted(rateOfBestReturn(fit, cost)));
    expect(dear!.rate).toBeLessThan(free!.rate);
    const curve = fit.curve!;
    const x = free!.lower! - curve.centre;
    const slope = curve.slope + 2 * curve.curvature * x;
    const variance =
      curve.slopeVariance + 4 * x * curve.slopeCurvatureCovariance + 4 * x * x * curve.curvatureVariance;
    expectRelative(tTwoSidedP(slope / Math.sqrt(variance), fit.errorDf), 0.05, 1e-8);
  });

  it('a treatment outside the series is left out of the curve, its error is kept', () => {
    const outside = accepted(responseToRate(means, [null, 24, 30, 36, 42], 0.05));
    expect(outside.lines.map((line) => line.df)).toEqual([1, 1, 1]);
    expect([outside.errorDf, outside.lowestRate]).toEqual([20, 24]);
  });

  it('three rates leave no lack of fit, two no curve', () => {
    const three = accepted(responseToRate(means, [null, 24, null, 36, 42], 0.05));
    expect(three.lines.map((line) => line.source)).toEqual(['linear', 'quadratic']);
    const two = accepted(responseToRate(means, [null, 24, null, 36, null], 0.05));
    expect([two.lines.length, two.curve, two.curvature]).toEqual([1, null, null]);
    expectRelative(two.slope.p, two.lines[0]!.p, 1e-10);
    expect(refusalOf(rateOfBestReturn(two, 0)).code).toBe('tooFewRates');
  });

  it('refuses and throws', () => {
    expect(refusalOf(rateOfBestReturn(fit, 5)).code).toBe('bestRateOutsideData');
    expect(refusalOf(responseToRate(means, [1, 1, 1, 1, 1], 0.05)).code).toBe('tooFewRates');
    expect(refusalOf(responseToRate(means, [1, 2, 3, 4, Number.NaN], 0.05)).code).toBe('nonFiniteValue');
    expect(refusalOf(responseToRate(means, rates, 0)).code).toBe('alphaOutOfRange');
    expect(() => responseToRate(means, [1, 2], 0.05)).toThrow('expected 5 rates, got 2');
    expect(() => rateOfBestReturn(fit, Number.NaN)).toThrow('finite');
    const zigzag = { ...means, means: means.means.map((m, i) => ({ ...m, deviation: i % 2 === 0 ? 0 : 9 })) };
    const unfit = accepted(responseToRate(zigzag, rates, 0.05));
    expect(refusalOf(rateOfBestReturn(unfit, 0)).code).toBe('quadraticDoesNotFit');
  });
});
