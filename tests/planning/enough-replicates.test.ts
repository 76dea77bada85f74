import { describe, expect, it } from 'vitest';
import { fewestBlocks, powerOfPlan } from '../../analyses/power-in-complete-blocks.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { criticalT } from '../../src/planning/critical-t.ts';
import { enoughReplicates, type ReplicatePlan } from '../../src/planning/enough-replicates.ts';
import { meanShareOfDeviation } from '../../src/planning/mean-share-of-deviation.ts';
import { planningSentences } from '../../src/words/planning-sentences.ts';
import { accepted, expectRelative, fixtureTable } from '../analyses/fixture-data.ts';

const PAIR: ReplicatePlan = {
  treatments: 2,
  blocks: 2,
  design: 'randomizedCompleteBlocks',
  cvPercent: 5,
  differencePercent: 5,
  alpha: 0.05,
  power: 0.8,
  procedure: 't',
  comparisons: 1,
};
const plan = (changes: Partial<ReplicatePlan>) => enoughReplicates({ ...PAIR, ...changes });

const everyEleventh = (file: string) => fixtureTable(file).filter((_, index) => index % 11 === 0);

describe('are there enough replicates, each pair by its own t', () => {
  // The powers themselves are held to every row in tests/analyses/power.test.ts; a whole plan takes longer.
  it('power: every eleventh row of fixtures/power-tables (R, 10 decimals)', () => {
    const rows = everyEleventh('power-tables/power-rcbd-pairwise.csv');
    expect(rows.length).toBeGreaterThan(20);
    for (const row of rows) {
      const got = plan({
        treatments: Number(row.t),
        blocks: Number(row.r),
        cvPercent: Number(row.cv_pct),
        differencePercent: Number(row.delta_pct),
        alpha: Number(row.alpha),
      });
      // R leaves the last decimals open: 2e-9 absolute.
      expect(Math.abs((got.power ?? 0) - Number(row.power)), JSON.stringify(row)).toBeLessThan(2e-9);
    }
  });

  it('replicates needed and detectable differences: every eleventh row of the tables', () => {
    for (const row of everyEleventh('power-tables/replicates-needed-rcbd-pairwise.csv')) {
      const got = plan({
        treatments: Number(row.t),
        cvPercent: Number(row.cv_pct),
        differencePercent: Number(row.delta_pct),
        alpha: Number(row.alpha),
        power: Number(row.power),
      });
      expect(got.blocksNeeded, JSON.stringify(row)).toBe(Number(row.reps));
    }
    for (const row of everyEleventh('power-tables/mdd-rcbd-pairwise.csv')) {
      const { t, r, alpha, power } = row;
      const asked = { treatments: Number(t), blocks: Number(r), alpha: Number(alpha), power: Number(power) };
      const want = Number(row.mdd_in_sigma) * PAIR.cvPercent;
      expectRelative(plan(asked).detectablePercent ?? 0, want, 2e-10, JSON.stringify(row));
    }
  });

  it("the trade's figures (practice of this project, computed there by noncentral t)", () => {
    const needed = (differencePercent: number) => plan({ differencePercent }).blocksNeeded;
    expect([5, 10, 15, 20].map(needed)).toEqual([18, 7, 5, 4]);
    expect((plan({}).detectablePercent ?? 0).toFixed(0)).toBe('82');
    expect((plan({ treatments: 4 }).detectablePercent ?? 0).toFixed(0)).toBe('21');
    expect(plan({}).curve[0]).toEqual({ blocks: 2, detectablePercent: plan({}).detectablePercent });
    expect(plan({}).curve.map(({ blocks }) => blocks)).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
});

describe('are there enough replicates, comparisons guarded', () => {
  it('critical values: Tukey and Dunnett as in fixtures/critical-values', () => {
    const ranges = fixtureTable('critical-values/studentized-range.csv');
    for (const { alpha, groups, df, q } of ranges.slice(0, 60)) {
      const asked = {
        treatments: Number(groups),
        procedure: 'tukey',
        comparisons: 1,
        alpha: Number(alpha),
      } as const;
      expect(criticalT(asked, Number(df))).toBeCloseTo(Number(q) / Math.SQRT2, 7);
    }
    const dunnett = fixtureTable('critical-values/dunnett-equal-n.csv').filter(({ sides }) => sides === '2');
    expect(dunnett.length).toBeGreaterThan(10);
    for (const { alpha, k_treatments_excl_control: k, df, d } of dunnett.slice(0, 40)) {
      const treatments = Number(k) + 1;
      const asked = {
        treatments,
        procedure: 'dunnett',
        comparisons: treatments - 1,
        alpha: Number(alpha),
      } as const;
      expect(criticalT(asked, Number(df))).toBeCloseTo(Number(d), 6);
    }
  });

  it('in complete blocks: the same power, width and blocks as analyses/power-in-complete-blocks', () => {
    const asked = { treatments: 5, blocks: 6, differencePercent: 10 } as const;
    const byTest = { allPairs: 'tukey', againstCheck: 'dunnett', pairAlone: 't' } as const;
    for (const test of ['allPairs', 'againstCheck', 'pairAlone'] as const) {
      const got = plan({ ...asked, procedure: byTest[test] });
      const known = { test, treatments: 5, cvPercent: PAIR.cvPercent, alpha: PAIR.alpha };
      const want = accepted(powerOfPlan(known, 10, 6));
      expectRelative(got.power ?? 0, want.power, 1e-10, test);
      expectRelative(2 * (got.halfWidthPercent ?? 0), want.expectedWidthPercent ?? 0, 1e-10, test);
      expect(fewestBlocks(known, 10, PAIR.power)).toMatchObject({ blocks: got.blocksNeeded });
    }
  });

  it('two treatments leave one comparison: every procedure is the t', () => {
    const byT = plan({ blocks: 6 });
    for (const procedure of ['bonferroni', 'tukey', 'dunnett'] as const) {
      const got = plan({ blocks: 6, procedure });
      expectRelative(got.power ?? 0, byT.power ?? 1, 1e-9, procedure);
      expectRelative(got.detectablePercent ?? 0, byT.detectablePercent ?? 1, 1e-9, procedure);
    }
  });

  it('guarding costs: t finds most, then Dunnett, Tukey, Bonferroni over all pairs (Hsu 1996, from memory)', () => {
    const at = (procedure: ReplicatePlan['procedure'], comparisons: number) =>
      plan({ treatments: 5, blocks: 5, differencePercent: 12, procedure, comparisons }).power ?? 0;
    const powers = [at('t', 10), at('dunnett', 4), at('tukey', 10), at('bonferroni', 10)];
    expect(powers).toEqual(powers.toSorted((a, b) => b - a));
    expect(new Set(powers).size).toBe(4);
  });

  it('simulated: the share of trials in which Tukey calls one true difference real, and the mean half width', () => {
    const asked = {
      treatments: 4,
      blocks: 5,
      differencePercent: 12,
      procedure: 'tukey',
      comparisons: 6,
    } as const;
    const want = plan(asked);
    const trials = 20_000;
    const { share, halfWidth } = simulated({ ...PAIR, ...asked }, trials);
    const power = want.power ?? 0;
    // z = 4.5, as in the calibration of this project.
    expect(Math.abs(share - power)).toBeLessThan(4.5 * Math.sqrt((power * (1 - power)) / trials));
    expectRelative(halfWidth, want.halfWidthPercent ?? 0, 0.01, 'mean half width');
  });
});

/** Treatments 1 and 2 differ, in complete blocks; the error by the residuals of the plain two-way table. */
function simulated(asked: ReplicatePlan, trials: number): { share: number; halfWidth: number } {
  const { treatments, blocks, cvPercent, differencePercent } = asked;
  const next = seededGenerator(20_251);
  const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const errorDf = (treatments - 1) * (blocks - 1);
  const critical = criticalT(asked, errorDf);
  let [found, width] = [0, 0];
  for (let trial = 0; trial < trials; trial += 1) {
    const y = Array.from({ length: treatments }, (_, t) =>
      Array.from({ length: blocks }, () => cvPercent * normal() + (t === 0 ? differencePercent : 0)),
    );
    const means = y.map((row) => mean(row));
    const blockMeans = Array.from({ length: blocks }, (_, b) => mean(y.map((row) => row[b]!)));
    const grand = mean(means);
    const ss = y.flatMap((row, t) => row.map((v, b) => (v - means[t]! - blockMeans[b]! + grand) ** 2));
    const halfWidth = critical * Math.sqrt((2 * sum(ss)) / errorDf / blocks);
    if (Math.abs(means[0]! - means[1]!) > halfWidth) found += 1;
    width += halfWidth;
  }
  return { share: found / trials, halfWidth: width / trials };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function mean(values: readonly number[]): number {
  return sum(values) / values.length;
}

describe('the mean of an estimated standard deviation', () => {
  it('is the constant c4 of control charts (ASTM E2587, four decimals; from memory)', () => {
    const c4 = [2, 3, 5, 10, 25].map((n) => meanShareOfDeviation(n - 1).toFixed(4));
    expect(c4).toEqual(['0.7979', '0.8862', '0.9400', '0.9727', '0.9896']);
  });
});

describe('bounds', () => {
  it('one block has no error: hopeless, and no figure is made up', () => {
    const got = plan({ blocks: 1 });
    expect(got).toMatchObject({ verdict: 'hopeless', errorDf: 0, power: null, detectablePercent: null });
    expect(planningSentences(got).answer).toContain('nothing is repeated');
  });

  it('what no number of blocks finds is null, not a large number', () => {
    expect(plan({ differencePercent: 0.1, cvPercent: 30 }).blocksNeeded).toBeNull();
  });

  it('senseless plans throw and say what was expected', () => {
    expect(() => plan({ treatments: 1 })).toThrow('treatments: expected a whole number from 2, got 1');
    expect(() => plan({ blocks: 2.5 })).toThrow('got 2.5');
    expect(() => plan({ cvPercent: 0 })).toThrow('got 0');
    expect(() => plan({ power: 0.05 })).toThrow('more than alpha');
    expect(() => plan({ alpha: 0.6 })).toThrow('got 0.6');
  });
});

describe('the sentences', () => {
  it('are firm where the plan is hopeless: two blocks of two treatments at a CV of 5 %', () => {
    const said = planningSentences(plan({}));
    expect(said.answer).toMatch(/^Do not lay this trial out as it stands/);
    expect(said.further[0]).toContain('nothing short of 82 %');
    expect(said.further[1]).toContain('it takes 18 blocks');
    expect(said.further.join(' ')).toContain('Only 1 degree of freedom is left');
  });

  it('say enough where it is, and not enough where it is not', () => {
    expect(planningSentences(plan({ blocks: 18 })).answer).toMatch(/^Enough: a true difference of 5 %/);
    expect(planningSentences(plan({ blocks: 18 })).further[1]).toBe('With one less it would not be enough.');
    expect(planningSentences(plan({ blocks: 12 })).answer).toMatch(
      /^Not enough: .* and 80 % were asked for\.$/,
    );
  });

  it('hold no word that a number failed to become', () => {
    for (const blocks of [1, 2, 3, 7, 30]) {
      const { answer, further } = planningSentences(plan({ blocks, design: 'completelyRandomized' }));
      expect([answer, ...further].join(' ')).not.toMatch(/NaN|undefined|null|Infinity/);
    }
  });
});
