import { describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { contrast } from '../../analyses/contrast.ts';
import { friedman } from '../../analyses/friedman.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { midranks } from '../../analyses/midranks.ts';
import { randomizationTest } from '../../analyses/randomization-test.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { seededGenerator, shuffled } from '../../analyses/seeded-generator.ts';
import { signFlipTest } from '../../analyses/sign-flip-test.ts';
import { signedRank } from '../../analyses/signed-rank.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  labels,
  numbers,
  refusalOf,
} from './fixture-data.ts';

interface Ranked {
  readonly computed: {
    readonly friedman: {
      readonly chisq: number;
      readonly df: number;
      readonly p: number;
      readonly iman_davenport: {
        readonly F: number;
        readonly df1: number;
        readonly df2: number;
        readonly p: number;
      };
    };
    readonly sign_flip: {
      readonly n_perm: number;
      readonly count_two_sided: number;
      readonly p_two: number;
      readonly wilcoxon_exact_with_midranks: { readonly V: number; readonly p_two: number };
    };
  };
}

const differencesOf = (name: string, a: string, b: string) =>
  fixtureTable(`${name}/data.csv`).map((row) => Number(row[a]) - Number(row[b]));
const never = () => {
  throw new Error('an exact test draws nothing');
};

describe('Friedman', () => {
  it.each([
    ['gomez-seeding-rate', 'yield', 'rep', 'rate'],
    ['snedecor-soybean', 'failures', 'block', 'trt'],
    ['montgomery-tips', 'y', 'block', 'tip'],
  ] as const)('%s against R (1e-10)', (name, response, block, treatment) => {
    const want = fixtureExpected<Ranked>(name).computed.friedman;
    const table = fixtureTable(`${name}/data.csv`);
    const treatments = labels(table, treatment);
    const values = labels(table, block).map((b) =>
      treatments.map((t) => Number(table.find((row) => row[block] === b && row[treatment] === t)![response])),
    );
    const got = accepted(friedman(values));
    expectRelative(got.chiSquared, want.chisq, 1e-10);
    expectRelative(got.p, want.p, 1e-10);
    expectRelative(got.f!.f, want.iman_davenport.F, 1e-10);
    expectRelative(got.f!.p, want.iman_davenport.p, 1e-10);
    expect([got.df, got.f!.df1, got.f!.df2]).toEqual([
      want.df,
      want.iman_davenport.df1,
      want.iman_davenport.df2,
    ]);
  });

  it('rounding first base, with ties, to the digits printed (Hollander & Wolfe 1973; from memory)', () => {
    const { computed } = fixtureExpected<{ computed: { chisq: number; rank_sums: Record<string, number> } }>(
      'hollander-rounding-bases',
    );
    const names = Object.keys(computed.rank_sums);
    const values = fixtureTable('hollander-rounding-bases/data.csv').map((row) =>
      names.map((name) => Number(row[name])),
    );
    const got = accepted(friedman(values));
    expect(got.rankSums).toEqual(Object.values(computed.rank_sums));
    expectRelative(got.chiSquared, computed.chisq, 1e-12);
    expect([got.chiSquared.toFixed(3), got.p.toFixed(6)]).toEqual(['11.143', '0.003805']);
  });

  it('full agreement has no F; refusals', () => {
    expect(
      accepted(
        friedman([
          [1, 2, 3],
          [4, 5, 6],
        ]),
      ).f,
    ).toBeNull();
    expect(refusalOf(friedman([[1], [2]])).code).toBe('tooFewTreatments');
    expect(refusalOf(friedman([[1, 2]])).code).toBe('tooFewPlots');
    expect(
      refusalOf(
        friedman([
          [1, 1],
          [2, 2],
        ]),
      ).code,
    ).toBe('constantResponse');
    expect(
      refusalOf(
        friedman([
          [1, 2],
          [2, Number.NaN],
        ]),
      ).code,
    ).toBe('nonFiniteValue');
    expect(() => friedman([[1, 2], [1]])).toThrow('expected 2 values');
  });

  it('midranks', () => {
    expect(midranks([5, 1, 5, 2, 5])).toEqual([4, 1, 4, 2, 4]);
  });
});

describe('pairs: signed ranks and the randomization of signs, exactly', () => {
  it.each([
    ['student-sleep', 'drug1', 'drug2'],
    ['shoe-wear', 'A', 'B'],
    ['darwin-maize', 'cross', 'self'],
    ['wilcoxon-depression', 'x', 'y'],
  ] as const)('%s', (name, a, b) => {
    const want = fixtureExpected<Ranked>(name).computed.sign_flip;
    const differences = differencesOf(name, a, b);
    const ranks = accepted(signedRank(differences));
    expect(ranks.v).toBe(want.wilcoxon_exact_with_midranks.V);
    expectRelative(ranks.p, want.wilcoxon_exact_with_midranks.p_two, 1e-14);
    const flips = accepted(signFlipTest(differences, never));
    expect([flips.patterns, flips.asExtreme, flips.exact]).toEqual([want.n_perm, want.count_two_sided, true]);
    expect(flips.p).toBe(want.p_two);
  });

  it("Darwin's maize, as Fisher printed it: 1726 of 32768 (1935; from memory)", () => {
    const flips = accepted(signFlipTest(differencesOf('darwin-maize', 'cross', 'self'), never));
    expect([flips.asExtreme, flips.patterns]).toEqual([1726, 32768]);
  });

  it('five pairs cannot reach .05, six can: 2/2^5 and 2/2^6', () => {
    expect(accepted(signFlipTest([1, 2, 3, 4, 5], never)).p).toBe(2 / 32);
    expect(accepted(signFlipTest([1, 2, 3, 4, 5, 6], never)).smallestP).toBe(2 / 64);
    expect(accepted(signedRank([1, 2, 3, 4, 5])).p).toBe(2 / 32);
  });

  it('beyond 20 pairs signs are drawn; the same seed gives the same p, near the exact one', () => {
    const differences = Array.from({ length: 24 }, (_, i) => ((i * 37) % 23) - 8);
    const draw = () => accepted(signFlipTest(differences, seededGenerator(11), 20_000));
    const got = draw();
    expect(draw()).toEqual(got);
    expect([got.exact, got.patterns]).toEqual([false, 20_001]);
    // Exactly: the sums are whole numbers, so patterns can be counted by sum
    const size = differences.reduce((sum, d) => sum + Math.abs(d), 0);
    let counts = new Map([[0, 1]]);
    for (const d of differences) {
      const next = new Map<number, number>();
      for (const [sum, count] of counts)
        for (const moved of [sum + d, sum - d]) next.set(moved, (next.get(moved) ?? 0) + count);
      counts = next;
    }
    const seen = Math.abs(differences.reduce((sum, d) => sum + d, 0));
    const exact =
      [...counts].reduce((sum, [value, count]) => sum + (Math.abs(value) >= seen ? count : 0), 0) / 2 ** 24;
    expect(size).toBeGreaterThan(seen);
    expect(Math.abs(got.p - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / 20_000));
  });

  it('ties of decimals are ties: 0.7, 0.1, 0.2, -0.3 have ten of sixteen sums of at least 0.7', () => {
    // By hand: 0.7 with any of 0.6, 0.4, 0.2, 0 and 0 from the others, and the same turned over
    expect(accepted(signFlipTest([0.7, 0.1, 0.2, -0.3], never)).asExtreme).toBe(10);
    expect(accepted(signedRank([0.3 - 0.1, 0.2, -0.2, 0.5])).v).toBe(2 + 2 + 4);
  });

  it('zeros are counted and left out; nothing but zeros is refused', () => {
    expect(accepted(signedRank([0, 3, -1, 0, 2]))).toMatchObject({ n: 3, zeros: 2, v: 5 });
    expect(refusalOf(signedRank([0, 0])).code).toBe('noErrorVariation');
    expect(refusalOf(signedRank([1, Number.NaN])).code).toBe('nonFiniteValue');
    expect(refusalOf(signFlipTest([1], never)).code).toBe('noCompletePair');
    expect(refusalOf(signFlipTest([1, Number.NaN], never)).code).toBe('nonFiniteValue');
  });
});

describe('treatments drawn anew within blocks', () => {
  const terms = [
    { kind: 'factor', id: 'block', levelOfPlot: [0, 0, 0, 1, 1, 1], levelCount: 2 },
    { kind: 'factor', id: 't', levelOfPlot: [0, 1, 2, 0, 1, 2], levelCount: 3 },
  ] as const;

  it('three treatments in two blocks: the p drawn is near that of all 36 arrangements', () => {
    const values = [3, 5.1, 9, 2, 6, 8.3];
    const fit = accepted(fitLinearModel(responseFromValues(values), terms));
    const orders = [
      [0, 1, 2],
      [0, 2, 1],
      [1, 0, 2],
      [1, 2, 0],
      [2, 0, 1],
      [2, 1, 0],
    ];
    const all = orders.flatMap((first) =>
      orders.map((second) => {
        const levelOfPlot = [...first, ...second];
        return accepted(fitLinearModel(responseFromValues(values), [terms[0], { ...terms[1], levelOfPlot }]))
          .rows[1]!.f!;
      }),
    );
    const exact = all.filter((f) => f >= fit.rows[1]!.f! * (1 - 1e-9)).length / 36;
    const got = accepted(randomizationTest(fit, 't', terms[0].levelOfPlot, seededGenerator(7), 4000));
    expect(Math.abs(got.p - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / 4000) + 1 / 4001);
    expect(got).toEqual(
      accepted(randomizationTest(fit, 't', terms[0].levelOfPlot, seededGenerator(7), 4000)),
    );
  });

  it('seeding rates: the p drawn goes with the F test', () => {
    const table = fixtureTable('gomez-seeding-rate/data.csv');
    const block = factor(table, 'rep');
    const fit = accepted(
      fitLinearModel(responseFromValues(numbers(table, 'yield')), [block, factor(table, 'rate')]),
    );
    const got = accepted(randomizationTest(fit, 'rate', block.levelOfPlot, seededGenerator(1984)));
    expect(got.arrangements).toBe(2000);
    expect(Math.abs(got.p - fit.rows[1]!.p!)).toBeLessThan(0.05);
  });

  it('the arrangement used counts itself, so p is never zero', () => {
    const fit = accepted(fitLinearModel(responseFromValues([3, 5.1, 9, 2, 6, 8.3]), terms));
    const got = accepted(randomizationTest(fit, 't', terms[0].levelOfPlot, never, 0));
    expect([got.asExtreme, got.arrangements, got.p]).toEqual([1, 1, 1]);
  });

  it('refuses where there is no error; throws for an unknown factor', () => {
    const exact = accepted(fitLinearModel(responseFromValues([1, 2, 3, 2, 3, 4]), terms));
    expect(refusalOf(randomizationTest(exact, 't', terms[0].levelOfPlot, never)).code).toBe(
      'noErrorVariation',
    );
    expect(() => randomizationTest(exact, 'x', terms[0].levelOfPlot, never)).toThrow('x');
    expect(() => randomizationTest(exact, 't', [0], never)).toThrow('expected 6 plots');
  });
});

describe('the seeded generator', () => {
  it('gives the published first outputs of splitmix64 for seed 1234567, as top 53 bits', () => {
    // 6457827717110365317, 3203168211198807973, 9817491932198370423 (reference C code's test vector; from memory)
    const random = seededGenerator(1234567);
    for (const output of [6457827717110365317n, 3203168211198807973n, 9817491932198370423n])
      expect(random()).toBe(Number(output >> 11n) / 2 ** 53);
  });

  it('shuffles without favour: each of 24 orders of four about equally often (chi-squared on 23 df below its .999 point)', () => {
    const random = seededGenerator(3);
    const counts = new Map<string, number>();
    for (let i = 0; i < 24_000; i++) {
      const key = shuffled(4, random).join('');
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    expect(counts.size).toBe(24);
    const chiSquared = [...counts.values()].reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    expect(chiSquared).toBeLessThan(49.73); // printed tables
    expect(() => seededGenerator(0.5)).toThrow('0.5');
  });
});

describe('planned contrasts', () => {
  const table = fixtureTable('npk-factorial/data.csv');
  const response = responseFromValues(numbers(table, 'yield'));

  it('npk: nitrogen as a contrast has the F and p of its line', () => {
    const fit = accepted(
      fitLinearModel(
        response,
        ['block', 'N', 'P', 'K'].map((column) => factor(table, column)),
      ),
    );
    const got = accepted(contrast(accepted(adjustedMeans(fit, 'N')), [-1, 1], 0.05));
    expectRelative(got.t ** 2, fit.rows[1]!.f!, 1e-12);
    expectRelative(got.p, fit.rows[1]!.p!, 1e-12);
    expectRelative(got.ss, fit.rows[1]!.ss, 1e-12);
  });

  it('orthogonal contrasts share out the treatment sum of squares', () => {
    const trial = fixtureTable('montgomery-tips/data.csv');
    const fit = accepted(
      fitLinearModel(responseFromValues(numbers(trial, 'y')), [factor(trial, 'block'), factor(trial, 'tip')]),
    );
    const means = accepted(adjustedMeans(fit, 'tip'));
    const parts = [
      [1, 1, -1, -1],
      [1, -1, 0, 0],
      [0, 0, 1, -1],
    ].map((weights) => accepted(contrast(means, weights, 0.05)).ss);
    expectRelative(parts[0]! + parts[1]! + parts[2]!, 0.385, 1e-12);
  });

  it('refuses and throws', () => {
    const fit = accepted(fitLinearModel(response, [factor(table, 'N')]));
    const means = accepted(adjustedMeans(fit, 'N'));
    expect(refusalOf(contrast(means, [1, -1], 2)).code).toBe('alphaOutOfRange');
    expect(() => contrast(means, [1, 1], 0.05)).toThrow('sum to zero');
    expect(() => contrast(means, [1, -0.5, -0.5], 0.05)).toThrow('expected 2 weights');
  });
});
