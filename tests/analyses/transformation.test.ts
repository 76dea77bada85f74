import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { backTransformedMeans, ratiosFromLogs } from '../../analyses/back-transformed-means.ts';
import { fisherLsd } from '../../analyses/fisher-lsd.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { allPairs, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { responseFromValues } from '../../analyses/response.ts';
import {
  backTransformed,
  type Transformation,
  transformed,
  usualOffset,
} from '../../analyses/transformation.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  numbers,
  refusalOf,
} from './fixture-data.ts';

const LOG: Transformation = { kind: 'log' };
const ANGULAR: Transformation = { kind: 'angular' };
const root = (offset: number): Transformation => ({ kind: 'squareRoot', offset });
const valuesOf = (values: readonly number[], transformation: Transformation) =>
  accepted(transformed(responseFromValues(values), transformation)).deviations;

describe('transformations', () => {
  it('angles of 0, 10, 25, 50, 75, 90 and 100 %: 0, 18.43, 30, 45, 60, 71.57 and 90 degrees (printed tables; from memory)', () => {
    const got = valuesOf([0, 10, 25, 50, 75, 90, 100], ANGULAR);
    expect(got.map((angle) => angle.toFixed(2))).toEqual([
      '0.00',
      '18.43',
      '30.00',
      '45.00',
      '60.00',
      '71.57',
      '90.00',
    ]);
  });

  it('roots with and without the offset, logarithms; the origin counts', () => {
    expect(valuesOf([4, 9], root(0))).toEqual([2, 3]);
    expectRelative(valuesOf([0], root(0.5))[0], Math.SQRT1_2, 1e-15);
    expectRelative(valuesOf([Math.E ** 2], LOG)[0], 2, 1e-15);
    expect(accepted(transformed({ origin: 8, deviations: [1, 17] }, root(0))).deviations).toEqual([3, 5]);
    expect([usualOffset([12, 40]), usualOffset([12, 9]), usualOffset([0])]).toEqual([0, 0.5, 0.5]);
  });

  it('back again to the same value, and no further than the scale goes', () => {
    for (const [transformation, values] of [
      [LOG, [1e-3, 1, 7000]],
      [root(0.5), [0, 3, 250]],
      [ANGULAR, [0, 1e-6, 33, 99.999999, 100]],
    ] as const)
      valuesOf(values, transformation).forEach((value, i) => {
        expect(Math.abs(backTransformed(transformation, value) - values[i]!)).toBeLessThan(
          1e-11 * (1 + values[i]!),
        );
      });
    expect([backTransformed(root(0.5), -1), backTransformed(root(0.5), 0.3)]).toEqual([0, 0]);
    expect([backTransformed(ANGULAR, -5), backTransformed(ANGULAR, 95)]).toEqual([0, 100]);
  });

  it('refuses what a scale does not take', () => {
    const refusedAt = (values: readonly number[], transformation: Transformation) =>
      refusalOf(transformed(responseFromValues(values), transformation));
    expect(refusedAt([3, 0], LOG)).toMatchObject({
      code: 'outsideTransformation',
      details: { plot: 1, value: 0, kind: 'log' },
    });
    expect(refusedAt([50, 100.5], ANGULAR).details).toMatchObject({ plot: 1, kind: 'angular' });
    expect(refusedAt([-0.1], ANGULAR).code).toBe('outsideTransformation');
    expect(refusedAt([-1], root(2)).code).toBe('outsideTransformation');
    expect(refusedAt([1, Number.NaN], LOG).code).toBe('nonFiniteValue');
    expect(() => transformed(responseFromValues([1]), root(-1))).toThrow('got -1');
  });
});

describe('means brought back (R 4.2.2: lm on the transformed plots, predict and confint; fixtures/transformed-sprays)', () => {
  const sprays = fixtureTable('transformed-sprays/data.csv');
  const want = fixtureExpected<
    Readonly<
      Record<
        'squareRoot' | 'angular' | 'log',
        {
          readonly mean: readonly number[];
          readonly lower: readonly number[];
          readonly upper: readonly number[];
        }
      >
    > & { readonly ratio: { readonly estimate: number; readonly lower: number; readonly upper: number } }
  >('transformed-sprays');
  const counts = numbers(sprays, 'count');
  const meansOf = (values: readonly number[], transformation: Transformation) => {
    const response = accepted(transformed(responseFromValues(values), transformation));
    return accepted(adjustedMeans(accepted(fitLinearModel(response, [factor(sprays, 'spray')])), 'spray'));
  };

  it.each([
    ['squareRoot', root(0.5), counts],
    ['angular', ANGULAR, counts.map((count) => (100 * count) / 30)],
    ['log', LOG, counts.map((count) => count + 1)],
  ] as const)('%s', (name, transformation, values) => {
    const got = accepted(backTransformedMeans(meansOf(values, transformation), transformation, 0.05));
    got.forEach((row, i) => {
      expectRelative(row.mean, want[name].mean[i]!, 1e-9, `mean ${i}`);
      expectRelative(row.lower, want[name].lower[i]!, 1e-9, `lower ${i}`);
      expectRelative(row.upper, want[name].upper[i]!, 1e-9, `upper ${i}`);
    });
  });

  it('log: geometric means, and their ratio with its interval', () => {
    const values = counts.map((count) => count + 1);
    const means = meansOf(values, LOG);
    const differences = accepted(pairwiseDifferences(means, allPairs(6)));
    const ratios = ratiosFromLogs(accepted(fisherLsd(differences, 0.05)).comparisons);
    const product = values.slice(0, 12).reduce((all, value) => all * value, 1);
    const geometric = accepted(backTransformedMeans(means, LOG, 0.05));
    expectRelative(geometric[0]!.mean, product ** (1 / 12), 1e-12);
    const last = ratios.find(({ a, b }) => a === 5 && b === 0)!;
    expectRelative(last.ratio, want.ratio.estimate, 1e-9);
    expectRelative(last.lower, want.ratio.lower, 1e-9);
    expectRelative(last.upper, want.ratio.upper, 1e-9);
    expectRelative(last.ratio, geometric[5]!.mean / geometric[0]!.mean, 1e-12);
    expect(ratiosFromLogs([{ ...differences[0]!, p: 0.2, lower: null, upper: 0 }])[0]).toMatchObject({
      lower: null,
      upper: 1,
    });
  });

  it('refuses without error', () => {
    const single = accepted(
      fitLinearModel(responseFromValues([1, 2, 4]), [
        { kind: 'factor', id: 't', levelOfPlot: [0, 1, 2], levelCount: 3 },
      ]),
    );
    const means = accepted(adjustedMeans(single, 't'));
    expect(refusalOf(backTransformedMeans(means, LOG, 0.05)).code).toBe('noErrorDf');
    expect(refusalOf(backTransformedMeans(means, LOG, 0.6)).code).toBe('alphaOutOfRange');
  });
});
