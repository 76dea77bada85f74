import { describe, expect, it } from 'vitest';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { randomizationTest } from '../../analyses/randomization-test.ts';
import {
  type RandomizationWithinBlocks,
  randomizationWithinBlocks,
} from '../../analyses/randomization-within-blocks.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { signFlipTest } from '../../analyses/sign-flip-test.ts';
import { expectRelative, factor, fixtureTable, numbers } from './fixture-data.ts';

const SEED = 20_260_301;

function done(result: ReturnType<typeof randomizationWithinBlocks>): RandomizationWithinBlocks {
  if (isRefusal(result)) throw new Error(`refused: ${result.code}`);
  return result;
}

describe('the randomization test within blocks', () => {
  it('is the sign-flip test of the pairs where there are two treatments', () => {
    const table = fixtureTable('darwin-maize/data.csv');
    const selfed = numbers(table, 'self');
    const pairs = numbers(table, 'cross').map((crossed, i) => crossed - selfed[i]!);
    const plots = {
      deviations: pairs.flatMap((difference) => [difference, 0]),
      treatmentOfPlot: pairs.flatMap(() => [0, 1]),
      treatments: 2,
      blockOfPlot: pairs.flatMap((_, pair) => [pair, pair]),
    };
    const found = done(randomizationWithinBlocks(plots, seededGenerator(SEED)));
    const flipped = signFlipTest(pairs, seededGenerator(SEED));
    if (isRefusal(flipped)) throw new Error(flipped.code);
    // Fisher (1935), ch. 3, counts 1726 of 32768 arrangements for Darwin's fifteen pairs.
    expect(found.asExtreme * 2).toBe(1726);
    expect(found.arrangements).toBe(2 ** 14);
    expect(found.p).toBe(flipped.p);
    expectRelative(found.smallestP, flipped.smallestP, 1e-12);
  });

  it('counts (t!)^(r-1) arrangements, and gives the treatment sum of squares of the analysis of variance', () => {
    const table = fixtureTable('montgomery-tips/data.csv');
    const [blocks, treatments] = [factor(table, 'block'), factor(table, 'tip')];
    const values = numbers(table, 'y');
    const found = done(
      randomizationWithinBlocks(
        {
          deviations: values,
          treatmentOfPlot: treatments.levelOfPlot,
          treatments: treatments.levelCount,
          blockOfPlot: blocks.levelOfPlot,
        },
        seededGenerator(SEED),
      ),
    );
    const fit = fitLinearModel(responseFromValues(values), [blocks, treatments]);
    if (isRefusal(fit)) throw new Error(fit.code);
    expect(found).toMatchObject({ exact: true, arrangements: 24 ** 3 });
    expectRelative(found.treatmentSs, fit.rows[1]!.ss, 1e-10);
    expectRelative(found.smallestP, 24 ** -3, 1e-12);
    const drawn = randomizationTest(fit, 'tip', blocks.levelOfPlot, seededGenerator(SEED), 1999);
    if (isRefusal(drawn)) throw new Error(drawn.code);
    expect(Math.abs(drawn.p - found.p)).toBeLessThan(
      4.5 * Math.sqrt((found.p * (1 - found.p)) / 1999) + 1 / 2000,
    );
  });

  it('agrees with refitting every arrangement where a plot is lost', () => {
    const blockOfPlot = [0, 0, 0, 1, 1, 2, 2, 2];
    const treatmentOfPlot = [0, 1, 2, 0, 2, 0, 1, 2];
    const deviations = [5.1, 6.3, 6.9, 4.2, 6.6, 5.5, 5.9, 7.4];
    const found = done(
      randomizationWithinBlocks(
        { deviations, treatmentOfPlot, treatments: 3, blockOfPlot },
        seededGenerator(SEED),
      ),
    );
    expect(found).toMatchObject({ exact: true, arrangements: 6 * 2 * 6 });
    const fit = fitLinearModel(responseFromValues(deviations), [
      { kind: 'factor', id: 'block', levelOfPlot: blockOfPlot, levelCount: 3 },
      { kind: 'factor', id: 'treatment', levelOfPlot: treatmentOfPlot, levelCount: 3 },
    ]);
    if (isRefusal(fit)) throw new Error(fit.code);
    expectRelative(found.treatmentSs, fit.rows[1]!.ss, 1e-10);
    const drawn = randomizationTest(fit, 'treatment', blockOfPlot, seededGenerator(SEED), 3999);
    if (isRefusal(drawn)) throw new Error(drawn.code);
    expect(Math.abs(drawn.p - found.p)).toBeLessThan(
      4.5 * Math.sqrt((found.p * (1 - found.p)) / 3999) + 1 / 4000,
    );
  });

  it('counts all ways to deal plots out where there are no blocks', () => {
    // Two groups of three: 20 ways, the farthest apart being one of two mirror images.
    const plots = {
      deviations: [1, 2, 3, 11, 12, 13],
      treatmentOfPlot: [0, 0, 0, 1, 1, 1],
      treatments: 2,
      blockOfPlot: [0, 0, 0, 0, 0, 0],
    };
    const found = done(randomizationWithinBlocks(plots, seededGenerator(SEED)));
    expect(found).toMatchObject({ arrangements: 20, asExtreme: 2, exact: true });
    expectRelative(found.smallestP, 0.1, 1e-12);
  });

  it('draws beyond 200,000 arrangements, states the error that leaves, and never gives zero', () => {
    const blockOfPlot = Array.from({ length: 40 }, (_, i) => Math.floor(i / 5));
    const treatmentOfPlot = Array.from({ length: 40 }, (_, i) => i % 5);
    const deviations = treatmentOfPlot.map((level, i) => level * 10 + Math.sin(i));
    const plots = { deviations, treatmentOfPlot, treatments: 5, blockOfPlot };
    const found = done(randomizationWithinBlocks(plots, seededGenerator(SEED), 999));
    expect(found).toMatchObject({ exact: false, arrangements: 1000, asExtreme: 1, p: 0.001 });
    expect(found.standardError).toBeGreaterThan(0);
    expect(randomizationWithinBlocks(plots, seededGenerator(SEED), 999)).toEqual(found);
  });

  it('refuses plots that do not vary within blocks, and treatments that no block links', () => {
    const base = { treatments: 2, blockOfPlot: [0, 0, 1, 1] };
    const flat = { ...base, deviations: [1, 1, 2, 2], treatmentOfPlot: [0, 1, 0, 1] };
    expect(randomizationWithinBlocks(flat, seededGenerator(1))).toMatchObject({ code: 'constantResponse' });
    const apart = { ...base, deviations: [1, 2, 2, 3], treatmentOfPlot: [0, 0, 1, 1] };
    expect(randomizationWithinBlocks(apart, seededGenerator(1))).toMatchObject({ code: 'confoundedTerms' });
  });
});
