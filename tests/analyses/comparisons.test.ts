import { describe, expect, it } from 'vitest';
import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { bonferroni } from '../../analyses/bonferroni.ts';
import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { fisherLsd } from '../../analyses/fisher-lsd.ts';
import { holm, holmAdjusted } from '../../analyses/holm.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { allPairs, pairsAgainst, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { tukey } from '../../analyses/tukey.ts';
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

interface Example {
  readonly computed: {
    readonly summary: Readonly<Record<string, number>> & { readonly means: Readonly<Record<string, number>> };
    readonly tukey_pairs: Readonly<
      Record<
        string,
        { readonly diff: number; readonly lwr: number; readonly upr: number; readonly 'p adj': number }
      >
    >;
  };
}

function meansOf(name: string, response: string, block: string | null, treatment: string): AdjustedMeans {
  const table = fixtureTable(`${name}/data.csv`).filter(
    (row) => row[response] !== 'NA' && row[response] !== '',
  );
  const terms = [...(block === null ? [] : [factor(table, block)]), factor(table, treatment)];
  const fit = accepted(fitLinearModel(responseFromValues(numbers(table, response)), terms));
  return accepted(adjustedMeans(fit, treatment));
}

const blockTrials = [
  ['gomez-seeding-rate', 'yield', 'rep', 'rate'],
  ['snedecor-soybean', 'failures', 'block', 'trt'],
  ['montgomery-tips', 'y', 'block', 'tip'],
] as const;

describe('complete blocks: means, standard errors, LSD and HSD (R 4.2.2; sources in fixtures)', () => {
  it.each(blockTrials)('%s', (name, response, block, treatment) => {
    const { summary } = fixtureExpected<Example>(name).computed;
    const means = meansOf(name, response, block, treatment);
    const names = labels(fixtureTable(`${name}/data.csv`), treatment);
    for (const { level, mean, standardError } of means.means) {
      expectRelative(mean, summary.means[names[level]!]!, 1e-12, names[level]!);
      expectRelative(standardError, summary.se_mean!, 1e-10, 'standard error of a mean');
    }
    const rows = accepted(pairwiseDifferences(means, allPairs(names.length)));
    for (const row of rows) expectRelative(row.standardError, summary.se_diff!, 1e-10, 'standard error');
    for (const [alpha, suffix] of [
      [0.05, '05'],
      [0.01, '01'],
      [0.1, '10'],
    ] as const) {
      expectRelative(accepted(fisherLsd(rows, alpha)).lsd, summary[`lsd${suffix}`]!, 1e-10, 'LSD');
      // R's qtukey stops iterating when a step falls below 1e-4; its HSD carries about 6 digits
      expectRelative(accepted(tukey(rows, names.length, alpha)).hsd, summary[`hsd${suffix}`]!, 2e-6, 'HSD');
    }
  });
});

describe("Tukey's procedure against R's TukeyHSD (about 1e-6 where R is off, see SOURCE.md)", () => {
  it.each([
    ...blockTrials,
    ['plant-growth', 'weight', null, 'group'],
    ['nist-tukey-example', 'y', null, 'g'],
    ['dunnett-blood-counts', 'y', null, 'grp'],
  ] as const)('%s', (name, response, block, treatment) => {
    const { tukey_pairs: pairs } = fixtureExpected<Example>(name).computed;
    const means = meansOf(name, response, block, treatment);
    const names = labels(fixtureTable(`${name}/data.csv`), treatment);
    const rows = accepted(pairwiseDifferences(means, allPairs(names.length)));
    const { comparisons } = accepted(tukey(rows, names.length, 0.05));
    expect(comparisons).toHaveLength(Object.keys(pairs).length);
    for (const row of comparisons) {
      const [straight, turned] = [`${names[row.a]}-${names[row.b]}`, `${names[row.b]}-${names[row.a]}`];
      const want = pairs[straight] ?? pairs[turned]!;
      const sign = straight in pairs ? 1 : -1;
      const width = want.upr - want.lwr;
      expect(Math.abs(sign * row.difference - want.diff), straight).toBeLessThan(1e-11 * width);
      expect(Math.abs(sign * row.difference + (row.upper! - row.difference) - want.upr)).toBeLessThan(
        2e-6 * width,
      );
      expect(Math.abs(row.p - want['p adj']), `${straight} p ${row.p}`).toBeLessThan(1e-8);
    }
  });

  it('warp breaks: tension after wool, to the digits printed (R documentation; from memory)', () => {
    const table = fixtureTable('warp-breaks/data.csv');
    const fit = accepted(
      fitLinearModel(responseFromValues(numbers(table, 'breaks')), [
        factor(table, 'wool'),
        factor(table, 'tension'),
      ]),
    );
    const means = accepted(adjustedMeans(fit, 'tension'));
    const names = labels(table, 'tension');
    const { comparisons } = accepted(tukey(accepted(pairwiseDifferences(means, allPairs(3))), 3, 0.05));
    const printed = (a: string, b: string) =>
      comparisons.find((row) => [names[row.a], names[row.b]].sort().join() === [a, b].sort().join())!;
    expect(Math.abs(printed('M', 'H').difference).toFixed(3)).toBe('4.722');
    expect(printed('M', 'H').p.toFixed(5)).toBe('0.44742');
    expect(printed('L', 'H').p.toFixed(7)).toBe('0.0011218');
    expect(printed('L', 'M').p.toFixed(7)).toBe('0.0336262');
  });
});

describe('a lost plot in blocks (Gomez & Gomez 1984, 7.1.2)', () => {
  const { lsmeans, sed_missing_vs_other: sed } = fixtureExpected<{
    computed: {
      lsmeans: { mean: Record<string, number>; se: Record<string, number> };
      sed_missing_vs_other: { contrast: string[]; se: number[] };
    };
  }>('gomez-missing-plot').computed;
  const means = meansOf('gomez-missing-plot', 'yield', 'rep', 'rate');
  const names = labels(fixtureTable('gomez-missing-plot/data.csv'), 'rate');

  it('adjusted means and their standard errors are the least squares ones', () => {
    for (const { level, mean, standardError } of means.means) {
      expectRelative(mean, lsmeans.mean[names[level]!]!, 1e-10);
      expectRelative(standardError, lsmeans.se[names[level]!]!, 1e-10);
    }
    const lost = means.means[names.indexOf('100')]!;
    expect(lost.n).toBe(3);
    expect(lost.rawMean).not.toBeCloseTo(lost.mean, 3);
  });

  it('differences with the treatment that lost a plot have the larger standard error, so there is no one LSD', () => {
    const rows = accepted(pairwiseDifferences(means, allPairs(names.length)));
    expect(sed.contrast).toHaveLength(rows.length);
    sed.contrast.forEach((contrast, i) => {
      const levels = [...contrast.matchAll(/rate(\d+)/g)].map((match) => names.indexOf(match[1]!));
      const row = rows.find(({ a, b }) => levels.includes(a) && levels.includes(b))!;
      expectRelative(row.standardError, sed.se[i]!, 1e-10, contrast);
    });
    expect(accepted(fisherLsd(rows, 0.05)).lsd).toBeNull();
    expect(accepted(tukey(rows, names.length, 0.05)).hsd).toBeNull();
  });
});

describe('Bonferroni and Holm', () => {
  const means = meansOf('snedecor-soybean', 'failures', 'block', 'trt');
  const rows = accepted(pairwiseDifferences(means, pairsAgainst(0, 5)));

  it('Bonferroni multiplies p by the number of comparisons and takes t at alpha over it', () => {
    const judged = accepted(bonferroni(rows, 0.05));
    expect(judged.comparisons.map((row) => [row.a, row.b])).toEqual([
      [1, 0],
      [2, 0],
      [3, 0],
      [4, 0],
    ]);
    judged.comparisons.forEach((row, i) => {
      expect(row.p).toBe(Math.min(1, 4 * rows[i]!.pUnadjusted));
      const half = tUpperQuantile(0.05 / 8, 16) * row.standardError;
      expectRelative(row.upper! - row.difference, half, 1e-12);
      expect(row.lower! > 0 || row.upper! < 0).toBe(row.p < 0.05);
    });
  });

  it("Holm's example: .01, .04, .03, .005 become .03, .06, .06, .02 (R's p.adjust, from memory)", () => {
    expect(holmAdjusted([0.01, 0.04, 0.03, 0.005])).toEqual([0.03, 0.06, 0.06, 0.02]);
  });

  it('Holm lies between no adjustment and Bonferroni, and gives no intervals', () => {
    const judged = accepted(holm(rows, 0.05));
    const bonferronis = accepted(bonferroni(rows, 0.05));
    judged.comparisons.forEach((row, i) => {
      expect(row.p).toBeGreaterThanOrEqual(row.pUnadjusted);
      expect(row.p).toBeLessThanOrEqual(bonferronis.comparisons[i]!.p);
      expect([row.lower, row.upper]).toEqual([null, null]);
    });
  });
});

describe('two means: every procedure is the t test', () => {
  it('student sleep, unpaired', () => {
    const table = fixtureTable('student-sleep/data.csv');
    const values = [...numbers(table, 'drug1'), ...numbers(table, 'drug2')];
    const levelOfPlot = values.map((_, i) => (i < 10 ? 0 : 1));
    const fit = accepted(
      fitLinearModel(responseFromValues(values), [
        { kind: 'factor', id: 'drug', levelOfPlot, levelCount: 2 },
      ]),
    );
    const rows = accepted(pairwiseDifferences(accepted(adjustedMeans(fit, 'drug')), allPairs(2)));
    const p = rows[0]!.pUnadjusted;
    // R documentation of sleep, t.test with equal variances: t = -1.8608, df = 18, p = 0.07919 (from memory)
    expect(p.toFixed(5)).toBe('0.07919');
    for (const judged of [
      tukey(rows, 2, 0.05),
      bonferroni(rows, 0.05),
      holm(rows, 0.05),
      fisherLsd(rows, 0.05),
    ])
      expectRelative(accepted(judged).comparisons[0]!.p, p, 1e-11);
  });
});

describe('refusals', () => {
  const response = responseFromValues([1, 2, 4, 3]);
  const treatment = (levelOfPlot: number[]) => ({
    kind: 'factor' as const,
    id: 't',
    levelOfPlot,
    levelCount: Math.max(...levelOfPlot) + 1,
  });

  it('no error df', () => {
    const means = accepted(adjustedMeans(accepted(fitLinearModel(response, [treatment([0, 1, 2, 3])])), 't'));
    expect(means.means.map((mean) => mean.standardError)).toEqual([null, null, null, null]);
    expect(refusalOf(pairwiseDifferences(means, allPairs(4))).code).toBe('noErrorDf');
  });

  it('an error of exactly zero', () => {
    const fit = accepted(fitLinearModel(responseFromValues([5, 5, 8, 8]), [treatment([0, 0, 1, 1])]));
    expect(refusalOf(pairwiseDifferences(accepted(adjustedMeans(fit, 't')), allPairs(2))).code).toBe(
      'noErrorVariation',
    );
  });

  it('one treatment', () => {
    const fit = accepted(fitLinearModel(response, [treatment([0, 0, 0, 0])]));
    expect(refusalOf(adjustedMeans(fit, 't')).code).toBe('tooFewTreatments');
  });

  it.each([0, -0.1, 0.6, Number.NaN])('alpha %s', (alpha) => {
    const fit = accepted(fitLinearModel(response, [treatment([0, 0, 1, 1])]));
    const rows = accepted(pairwiseDifferences(accepted(adjustedMeans(fit, 't')), allPairs(2)));
    for (const judge of [
      fisherLsd(rows, alpha),
      bonferroni(rows, alpha),
      holm(rows, alpha),
      tukey(rows, 2, alpha),
    ])
      expect(refusalOf(judge).code).toBe('alphaOutOfRange');
  });

  it('a pair of one level with itself, or of a level that is not there, throws', () => {
    const fit = accepted(fitLinearModel(response, [treatment([0, 0, 1, 1])]));
    const means = accepted(adjustedMeans(fit, 't'));
    expect(() => pairwiseDifferences(means, [[1, 1]])).toThrow('got 1 and 1');
    expect(() => pairwiseDifferences(means, [[2, 0]])).toThrow('got 2 and 0');
    expect(() => adjustedMeans(fit, 'x')).toThrow('x');
    expect(() => fisherLsd([], 0.05)).toThrow('at least one pair');
  });
});
