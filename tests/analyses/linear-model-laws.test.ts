import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';
import { allPairs, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { accepted, expectRelative } from './fixture-data.ts';

const SEED = 20261125;
const RUNS = { seed: SEED, numRuns: 60 };

interface Blocks {
  readonly treatments: number;
  readonly blocks: number;
  readonly values: readonly number[];
}

/** Complete blocks with values in whole hundredths, so that adding and scaling are exact enough to compare. */
const completeBlocks = fc
  .record({ treatments: fc.integer({ min: 2, max: 7 }), blocks: fc.integer({ min: 2, max: 6 }) })
  .chain(({ treatments, blocks }) =>
    fc
      .array(fc.integer({ min: 100, max: 1500 }), {
        minLength: treatments * blocks,
        maxLength: treatments * blocks,
      })
      .map((hundredths): Blocks => ({ treatments, blocks, values: hundredths.map((x) => x / 100) })),
  );

function termsOf({ treatments, blocks }: Blocks): [FactorTerm, FactorTerm] {
  const plots = Array.from({ length: treatments * blocks }, (_, i) => i);
  return [
    {
      kind: 'factor',
      id: 'block',
      levelOfPlot: plots.map((i) => Math.floor(i / treatments)),
      levelCount: blocks,
    },
    {
      kind: 'factor',
      id: 'treatment',
      levelOfPlot: plots.map((i) => i % treatments),
      levelCount: treatments,
    },
  ];
}

function fitOf(
  deviations: readonly number[],
  terms: readonly ModelTerm[],
  origin = 0,
): LinearModelFit | null {
  const fit = fitLinearModel({ origin, deviations }, terms);
  return 'refused' in fit || fit.exactFit ? null : fit;
}

function expectSameTable(got: LinearModelFit, want: LinearModelFit, scale = 1): void {
  for (const row of want.rows) {
    const twin = got.rows.find((other) => other.term === row.term)!;
    expect(Math.abs(twin.ss - scale * row.ss)).toBeLessThan(1e-11 * scale * want.total.ss);
    expect(Math.abs(twin.f! - row.f!)).toBeLessThan(1e-9 * (1 + row.f!) * (want.total.ss / want.error.ss));
  }
  expect(Math.abs(got.error.ss - scale * want.error.ss)).toBeLessThan(1e-11 * scale * want.total.ss);
}

describe('laws of the analysis of variance', () => {
  it('complete blocks: sums of squares and df add up; residuals sum to zero in every row and column', () => {
    fc.assert(
      fc.property(completeBlocks, (trial) => {
        const terms = termsOf(trial);
        const fit = fitOf(trial.values, terms);
        if (fit === null) return;
        const parts = [...fit.rows, fit.error];
        expectRelative(
          parts.reduce((sum, part) => sum + part.ss, 0),
          fit.total.ss,
          1e-12,
        );
        expect(parts.reduce((sum, part) => sum + part.df, 0)).toBe(fit.total.df);
        for (const term of terms)
          for (let level = 0; level < term.levelCount; level++) {
            const own = fit.residuals.filter((_, i) => term.levelOfPlot[i] === level);
            expect(Math.abs(own.reduce((sum, r) => sum + r, 0))).toBeLessThan(1e-12);
          }
      }),
      RUNS,
    );
  });

  it('the order of plots and of terms changes nothing', () => {
    fc.assert(
      fc.property(completeBlocks, fc.infiniteStream(fc.nat()), (trial, stream) => {
        const terms = termsOf(trial);
        const fit = fitOf(trial.values, terms);
        if (fit === null) return;
        const keys = trial.values.map(() => stream.next().value as number);
        const order = keys.map((_, i) => i).sort((i, j) => keys[i]! - keys[j]!);
        const moved = terms
          .map((term) => ({ ...term, levelOfPlot: order.map((i) => term.levelOfPlot[i]!) }))
          .reverse();
        const again = fitOf(
          order.map((i) => trial.values[i]!),
          moved,
        );
        expectSameTable(again!, fit);
      }),
      RUNS,
    );
  });

  it('relabelling treatments moves their means and changes nothing else', () => {
    fc.assert(
      fc.property(completeBlocks, (trial) => {
        const [block, treatment] = termsOf(trial);
        const fit = fitOf(trial.values, [block, treatment]);
        if (fit === null) return;
        const renamed = treatment.levelOfPlot.map((level) => trial.treatments - 1 - level);
        const again = fitOf(trial.values, [block, { ...treatment, levelOfPlot: renamed }])!;
        expectSameTable(again, fit);
        const means = accepted(adjustedMeans(fit, 'treatment')).means;
        const twins = accepted(adjustedMeans(again, 'treatment')).means;
        means.forEach((mean, level) => {
          expectRelative(twins[trial.treatments - 1 - level]!.mean, mean.mean, 1e-12);
        });
      }),
      RUNS,
    );
  });

  it('adding a constant, or moving the origin, changes no sum of squares', () => {
    fc.assert(
      fc.property(completeBlocks, fc.integer({ min: -64, max: 64 }), (trial, constant) => {
        const terms = termsOf(trial);
        const fit = fitOf(trial.values, terms);
        if (fit === null) return;
        expectSameTable(
          fitOf(
            trial.values.map((value) => value + constant),
            terms,
          )!,
          fit,
        );
        const moved = fitOf(trial.values, terms, constant)!;
        expect(moved.rows).toEqual(fit.rows);
        expectRelative(moved.grandMean - constant, fit.grandMean, 1e-11);
      }),
      RUNS,
    );
  });

  it('a change of unit scales sums of squares by its square and leaves F and p', () => {
    fc.assert(
      fc.property(completeBlocks, fc.constantFrom(1e-9, 67.25106937, 1e9), (trial, unit) => {
        const terms = termsOf(trial);
        const fit = fitOf(trial.values, terms);
        if (fit === null) return;
        expectSameTable(
          fitOf(
            trial.values.map((value) => value * unit),
            terms,
          )!,
          fit,
          unit * unit,
        );
      }),
      RUNS,
    );
  });

  it('two treatments: F is the square of the t of their difference', () => {
    fc.assert(
      fc.property(completeBlocks, (trial) => {
        if (trial.treatments !== 2) return;
        const fit = fitOf(trial.values, termsOf(trial));
        if (fit === null) return;
        const [pair] = accepted(pairwiseDifferences(accepted(adjustedMeans(fit, 'treatment')), allPairs(2)));
        expect(Math.abs(pair!.t ** 2 - fit.rows[1]!.f!)).toBeLessThan(1e-10 * (1 + fit.rows[1]!.f!));
      }),
      { ...RUNS, numRuns: 300 },
    );
  });
});

describe('laws of adjusted means', () => {
  it('complete blocks: they are the plain means, with variance ms / blocks and no covariance of differences', () => {
    fc.assert(
      fc.property(completeBlocks, (trial) => {
        const fit = fitOf(trial.values, termsOf(trial));
        if (fit === null) return;
        const means = accepted(adjustedMeans(fit, 'treatment'));
        means.means.forEach((mean, level) => {
          expectRelative(mean.mean, mean.rawMean, 1e-12);
          expect(mean.n).toBe(trial.blocks);
          expectRelative(means.unitCovariance[level]![level]!, 1 / trial.blocks, 1e-12);
        });
        for (const row of accepted(pairwiseDifferences(means, allPairs(trial.treatments))))
          expectRelative(row.standardError, Math.sqrt((2 * fit.error.ms!) / trial.blocks), 1e-12);
      }),
      RUNS,
    );
  });
});
