import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import {
  detectableByPlan,
  fewestBlocks,
  type PlannedBlocks,
  type PlannedTest,
  powerOfPlan,
} from '../../analyses/power-in-complete-blocks.ts';
import { powerOfF } from '../../analyses/power-of-f.ts';
import { powerTwoSidedT } from '../../analyses/power-two-sided-t.ts';
import { replicatesNeeded } from '../../analyses/replicates-needed.ts';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { accepted, expectRelative, fixtureTable, refusalOf } from './fixture-data.ts';

const TESTS: readonly PlannedTest[] = ['pairAlone', 'allPairs', 'againstCheck', 'overallF'];
const table = (name: string): Readonly<Record<string, number>>[] =>
  fixtureTable(`power-tables/${name}.csv`).map((row) =>
    Object.fromEntries(Object.entries(row).map(([key, value]) => [key, Number(value)])),
  );
const plan = (test: PlannedTest, treatments: number, cvPercent = 5, alpha = 0.05): PlannedBlocks => ({
  test,
  treatments,
  cvPercent,
  alpha,
});

describe('power in complete blocks', () => {
  it('a pair alone and the overall F: every row of the tables (R 4.2.2; fixtures/power-tables)', () => {
    for (const [name, test, tolerance] of [
      ['power-rcbd-pairwise', 'pairAlone', 1e-10],
      // The table of F is itself 1e-9 off, see its SOURCE.md
      ['power-rcbd-f-min', 'overallF', 2e-9],
    ] as const)
      for (const { t, r, delta_pct: delta, cv_pct: cv, alpha, power } of table(name)) {
        const got = accepted(powerOfPlan(plan(test, t!, cv!, alpha!), delta!, r!));
        expect(Math.abs(got.power - power!), `${name} ${t} ${r} ${delta}`).toBeLessThan(tolerance);
        expect(got.errorDf).toBe((t! - 1) * (r! - 1));
      }
  });

  it("F: R's power.anova.test (values in power-r-examples.csv)", () => {
    const calls = fixtureTable('power-tables/power-r-examples.csv').map((row) => row.call);
    expect(calls.some((call) => call?.startsWith('power.anova.test'))).toBe(true);
    expectRelative(powerOfF(5, 3, 16, 0.05), 0.353559423815, 1e-8);
    // power.anova.test(groups=4,between.var=1,within.var=3,power=.80)$n, to uniroot's own tolerance
    const n = 11.926130957736;
    expectRelative(powerOfF(n, 3, 4 * (n - 1), 0.05), 0.8, 1e-6);
    // Cohen's f: noncentrality groups * n * f^2
    expectRelative(powerOfF(180 * 0.0625, 3, 176, 0.05), 0.803986913098, 1e-8);
    expectRelative(powerOfF(63 * 0.16, 2, 60, 0.05), 0.797817714219, 1e-8);
  });

  it('two treatments: one test under four names', () => {
    for (const blocks of [2, 4, 9]) {
      const want = powerTwoSidedT((8 / 5) * Math.sqrt(blocks / 2), blocks - 1, 0.05);
      for (const test of TESTS)
        expectRelative(accepted(powerOfPlan(plan(test, 2), 8, blocks)).power, want, 1e-9, test);
    }
  });

  it('Tukey and Dunnett with the printed critical values: 4 treatments, 4 blocks, 9 df', () => {
    // q(4, 9; .05) = 4.41 and Dunnett's d(3, 9; .05, two-sided) = 2.81 (printed tables; from memory)
    const tukey = accepted(powerOfPlan(plan('allPairs', 4), 10, 4));
    const dunnett = accepted(powerOfPlan(plan('againstCheck', 4), 10, 4));
    expect((tukey.criticalValue * Math.SQRT2).toFixed(2)).toBe('4.41');
    expect(dunnett.criticalValue.toFixed(2)).toBe('2.81');
    const simulated = simulatedPower(10, 5, 4, 9, [tukey.criticalValue, dunnett.criticalValue], 100_000);
    for (const [i, want] of [tukey.power, dunnett.power].entries())
      expect(Math.abs(simulated[i]! - want)).toBeLessThan(4 * Math.sqrt((want * (1 - want)) / 100_000));
    expect(tukey.power).toBeLessThan(dunnett.power);
    expect(dunnett.power).toBeLessThan(accepted(powerOfPlan(plan('pairAlone', 4), 10, 4)).power);
  });

  it('repeated checks: error df, standard error and correlation follow', () => {
    const got = accepted(powerOfPlan({ ...plan('againstCheck', 4), checkStrips: 2 }, 10, 4));
    expect(got.errorDf).toBe(9 + 4);
    const once = accepted(powerOfPlan(plan('againstCheck', 4), 10, 4));
    expect(got.power).toBeGreaterThan(once.power);
    const ratio = got.expectedWidthPercent! / once.expectedWidthPercent!;
    const c4 = (df: number) => MEAN_OF_SD[df]!;
    expectRelative(
      ratio,
      ((got.criticalValue / once.criticalValue) * Math.sqrt(0.75) * c4(13)) / c4(9),
      2e-4,
    );
  });

  it('expected width: the mean of s is that of the control-chart constant c4', () => {
    // c4 for n = 2, 5, 10 is .7979, .9400, .9727 (printed tables; from memory)
    for (const [blocks, c4] of [
      [2, '0.7979'],
      [5, '0.9400'],
      [10, '0.9727'],
    ] as const) {
      const width = accepted(powerOfPlan(plan('pairAlone', 2), 10, blocks)).expectedWidthPercent!;
      const withTrueSd = 2 * tUpperQuantile(0.025, blocks - 1) * 5 * Math.sqrt(2 / blocks);
      expect((width / withTrueSd).toFixed(4)).toBe(c4);
    }
    expect(accepted(powerOfPlan(plan('overallF', 3), 10, 4)).expectedWidthPercent).toBeNull();
  });

  it('the detectable difference is found with the power asked for', () => {
    for (const test of TESTS) {
      const difference = accepted({ value: detectableByPlan(plan(test, 5), 0.8, 4) }).value as number;
      expectRelative(accepted(powerOfPlan(plan(test, 5), difference, 4)).power, 0.8, 1e-9, test);
    }
    // Two treatments in two blocks at CV 5 %: 82 % (practice of this project, computed)
    expect(Math.round(detectableByPlan(plan('pairAlone', 2), 0.8, 2) as number)).toBe(82);
  });

  it('fewest blocks: enough, and one fewer is not; as replicates-needed for a pair alone', () => {
    for (const test of TESTS)
      for (const treatments of [2, 4, 7]) {
        const got = accepted({ plan: fewestBlocks(plan(test, treatments), 10, 0.8) }).plan as {
          blocks: number;
          power: number;
        };
        expect(got.power).toBeGreaterThanOrEqual(0.8);
        if (got.blocks > 2)
          expect(accepted(powerOfPlan(plan(test, treatments), 10, got.blocks - 1)).power).toBeLessThan(0.8);
        if (test !== 'pairAlone') continue;
        const question = { treatments, cvPercent: 5, differencePercent: 10, power: 0.8, alpha: 0.05 };
        expect(got.blocks).toBe(accepted(replicatesNeeded(question)).replicates);
      }
    expect(fewestBlocks(plan('allPairs', 4, 30), 1, 0.8, 40)).toBeNull();
  });

  it('refuses and throws', () => {
    expect(refusalOf(powerOfPlan(plan('allPairs', 1), 10, 4)).code).toBe('tooFewTreatments');
    expect(refusalOf(powerOfPlan(plan('allPairs', 3, 5, 0.7), 10, 4)).code).toBe('alphaOutOfRange');
    expect(() => powerOfPlan(plan('allPairs', 3), 10, 1)).toThrow('got 1');
    expect(() => powerOfPlan(plan('allPairs', 3, 0), 10, 4)).toThrow('cvPercent');
    expect(() => powerOfPlan({ ...plan('allPairs', 3), checkStrips: 2 }, 10, 4)).toThrow('againstCheck');
    expect(() => fewestBlocks(plan('allPairs', 3), 10, 0.01)).toThrow('alpha');
    expect(() => fewestBlocks(plan('allPairs', 3), -1, 0.8)).toThrow('differencePercent');
  });
});

/** c4 on n - 1 = 9 and 13 df: .9727 and .9810 (printed tables; from memory). */
const MEAN_OF_SD: Readonly<Record<number, number>> = { 9: 0.9727, 13: 0.981 };

/** How often |T| of a pair exceeds each value: differences and error variance drawn, seeded. */
function simulatedPower(
  difference: number,
  cv: number,
  blocks: number,
  df: number,
  critical: readonly number[],
  draws: number,
): number[] {
  const random = seededGenerator(1953);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const counts = critical.map(() => 0);
  for (let draw = 0; draw < draws; draw++) {
    const drawn = difference + cv * Math.sqrt(2 / blocks) * normal();
    let chi = 0;
    for (let i = 0; i < df; i++) chi += normal() ** 2;
    const t = Math.abs(drawn) / (cv * Math.sqrt((2 / blocks) * (chi / df)));
    critical.forEach((value, i) => {
      if (t > value) counts[i] = counts[i]! + 1;
    });
  }
  return counts.map((count) => count / draws);
}
