import { describe, expect, it } from 'vitest';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { expectRelative, fixtureExpected, fixtureTable } from '../analyses/fixture-data.ts';
import { fixtureCells, onlyResponse, sourceRow, tableInput } from './report-inputs.ts';

/** Sources and licences stand in SOURCE.md of each fixture. Tolerances: what the expected values were printed to. */
const TOLERANCE = 1e-9;

describe('rice at six seeding rates in four blocks (Gomez & Gomez 1984, Tables 2.5 and 2.6)', () => {
  const cells = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
  const { computed } = fixtureExpected<{ computed: SeedingRate }>('gomez-seeding-rate');
  const response = onlyResponse(reportFromPlotTable(tableInput(cells)));

  it('has the published analysis of variance, in the order block, treatment, error, total', () => {
    expect(response.anova.map(({ source }) => source)).toEqual(['block', 'treatment', 'error', 'total']);
    expect(response.anova.map(({ label }) => label)).toEqual(['rep', 'rate', 'Error', 'Total']);
    expect(response.anova.map(({ df }) => df)).toEqual([3, 5, 15, 23]);
    expect(response.design).toBe('randomizedCompleteBlocks');
    expectRelative(sourceRow(response, 'block').ss, computed.anova.rep.ss, TOLERANCE);
    expectRelative(sourceRow(response, 'treatment').f, computed.anova.rate.F, TOLERANCE);
    expectRelative(sourceRow(response, 'treatment').p, computed.anova.rate.p, TOLERANCE);
    expect(sourceRow(response, 'treatment').f!.toFixed(2)).toBe('2.17');
    expectRelative(sourceRow(response, 'error').ms, computed.summary.mse, TOLERANCE);
    expectRelative(sourceRow(response, 'total').ss, computed.total.ss, TOLERANCE);
  });

  it('has the published CV, standard errors and LSD', () => {
    expect(response.cvPercent!.toFixed(1)).toBe('6.7');
    expectRelative(response.lsd.value, computed.summary.lsd05, TOLERANCE);
    expectRelative(response.standardErrorOfMean, computed.summary.se_mean, TOLERANCE);
    expectRelative(response.standardErrorOfDifference, computed.summary.se_diff, TOLERANCE);
    expectRelative(response.grandMean, computed.summary.grand_mean, TOLERANCE);
    const lsd10 = onlyResponse(reportFromPlotTable(tableInput(cells, { alpha: 0.1 }))).lsd;
    expectRelative(lsd10.value, computed.summary.lsd10, TOLERANCE);
  });

  it('compares all pairs, the later treatment minus the earlier, and Tukey as published', () => {
    const byTukey = onlyResponse(reportFromPlotTable(tableInput(cells, { decidedBy: 'tukey' })));
    const rows = byTukey.comparisons.filter(({ procedure }) => procedure === 'tukey');
    expect(rows).toHaveLength(15);
    for (const row of rows) {
      const want = computed.tukey_pairs[`${row.a}-${row.b}`]!;
      expectRelative(row.difference, want.diff, TOLERANCE, `${row.a}-${row.b}`);
      // Interval and p of the source come from its own quantile, good to about eight digits.
      expectRelative(row.lower, want.lwr, 1e-6, `${row.a}-${row.b} lower`);
      expectRelative(row.p, want['p adj'], 1e-6, `${row.a}-${row.b} p`);
    }
    expect(byTukey.decidedBy).toMatchObject({ procedure: 'tukey', chanceOfOneFalseReal: 0.05 });
    expect(byTukey.means.map(({ letters }) => letters.tukey)).toEqual(['a', 'a', 'a', 'a', 'a', 'a']);
  });

  it('settles nothing, as the published F says, and calls nothing the same without a margin', () => {
    expect(response.answers).toHaveLength(15);
    expect(new Set(response.answers.map(({ difference }) => difference))).toEqual(new Set(['Not settled']));
  });
});

interface SeedingRate {
  readonly anova: Record<'rep' | 'rate', { ss: number; F: number; p: number }>;
  readonly total: { readonly ss: number };
  readonly summary: Record<'mse' | 'lsd05' | 'lsd10' | 'se_mean' | 'se_diff' | 'grand_mean', number>;
  readonly tukey_pairs: Record<string, { diff: number; lwr: number; upr: number; 'p adj': number }>;
}

describe('the same with one plot lost (Gomez & Gomez 1984, section 7.1.2)', () => {
  const full = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
  const kept = fixtureCells('gomez-missing-plot/data.csv', 'rate', 'rep', 'yield').filter(
    ([, , value]) => value !== null,
  );
  const { computed } = fixtureExpected<{ computed: MissingPlot }>('gomez-missing-plot');
  const cells = full.map(([rate, rep, value]) =>
    kept.some(([a, b]) => a === rate && b === rep)
      ? ([rate, rep, value] as const)
      : ([rate, rep, null] as const),
  );
  const report = reportFromPlotTable(tableInput(cells));
  const response = onlyResponse(report);

  it('has the exact least squares analysis and the adjusted means', () => {
    expect(response.design).toBe('incompleteBlocks');
    expectRelative(sourceRow(response, 'treatment').ss, computed.exact_ls.trt_ss, TOLERANCE);
    expectRelative(sourceRow(response, 'treatment').p, computed.exact_ls.trt_p, TOLERANCE);
    expectRelative(sourceRow(response, 'error').ms, computed.exact_ls.mse, TOLERANCE);
    for (const mean of response.means) {
      expectRelative(mean.adjustedMean, computed.lsmeans.mean[mean.treatment]!, TOLERANCE);
      expectRelative(mean.standardError, computed.lsmeans.se[mean.treatment]!, TOLERANCE);
    }
  });

  it('has no single LSD or standard error, since they differ from pair to pair', () => {
    expect(response.lsd).toEqual({ alpha: 0.05, df: 14, value: null });
    expect(response.standardErrorOfMean).toBeNull();
    expect(response.standardErrorOfDifference).toBeNull();
  });

  it('names the gap and lets it weaken every answer', () => {
    expect(report.problems.map(({ code }) => code)).toEqual(['treatmentMissingFromBlock']);
    expect(report.problems[0]!.message).toMatch(/treatment 100 has no value in block R2/);
    for (const { weakens } of response.answers)
      expect(weakens.join(' ')).toMatch(/1 of 24 strips gave no value/);
  });
});

interface MissingPlot {
  readonly exact_ls: Record<'trt_ss' | 'trt_p' | 'mse', number>;
  readonly lsmeans: { readonly mean: Record<string, number>; readonly se: Record<string, number> };
}

describe('shoe wear, two materials on ten boys (Box, Hunter & Hunter 1978)', () => {
  const cells = ['A', 'B'].flatMap((material) =>
    fixtureCells('shoe-wear/data.csv', 'id', null, material).map(
      ([boy, , value]) => [material, boy, value] as const,
    ),
  );
  const { computed } = fixtureExpected<{ computed: PairedExample }>('shoe-wear');
  const response = onlyResponse(
    reportFromPlotTable(tableInput(cells, { check: 'B', margin: computed.tost['2sd']!.margin })),
  );

  it('gives the published paired t, and the blocked analysis the same answer', () => {
    const paired = response.comparisons.find(({ procedure }) => procedure === 'paired')!;
    const lsd = response.comparisons.find(({ procedure }) => procedure === 'lsd')!;
    expect([paired.a, paired.b, paired.df]).toEqual(['A', 'B', 9]);
    for (const row of [paired, lsd]) {
      expectRelative(row.difference, computed.mean_diff, TOLERANCE);
      expectRelative(row.t, computed.t, TOLERANCE);
      expectRelative(row.p, computed.p, TOLERANCE);
      expectRelative(row.lower, computed.ci95[0], TOLERANCE);
      expectRelative(row.upper, computed.ci95[1], TOLERANCE);
    }
    expect(response.decidedBy).toMatchObject({ procedure: 't', chanceOfOneFalseReal: 0.05 });
  });

  it('gives the published equivalence tests, and both verdicts together', () => {
    const answer = response.answers[0]!;
    expectRelative(answer.equivalence.lower, computed.ci90[0], TOLERANCE);
    expectRelative(answer.equivalence.upper, computed.ci90[1], TOLERANCE);
    expectRelative(answer.equivalence.p, computed.tost['2sd']!.p_tost, 1e-8);
    expect(answer.difference).toBe('Real, but smaller than matters');
    const narrow = tableInput(cells, { check: 'B', margin: computed.tost['1sd']!.margin });
    expect(onlyResponse(reportFromPlotTable(narrow)).answers[0]!.difference).toBe('Real');
  });
});

interface PairedExample {
  readonly mean_diff: number;
  readonly t: number;
  readonly p: number;
  readonly ci95: readonly [number, number];
  readonly ci90: readonly [number, number];
  readonly tost: Record<string, { margin: number; p_tost: number }>;
}

describe('blood counts against a control (Dunnett 1955), without blocks', () => {
  const cells = fixtureCells('dunnett-blood-counts/data.csv', 'grp', null, 'y');
  const { computed } = fixtureExpected<{ computed: OneWay }>('dunnett-blood-counts');
  const response = onlyResponse(reportFromPlotTable(tableInput(cells, { check: 'Control' })));

  it('is analysed as completely randomized with unequal replication', () => {
    expect(response.design).toBe('completelyRandomized');
    expect(response.anova.map(({ source }) => source)).toEqual(['treatment', 'error', 'total']);
    expectRelative(sourceRow(response, 'treatment').f, computed.anova.grp.F, TOLERANCE);
    expectRelative(sourceRow(response, 'treatment').p, computed.anova.grp.p, TOLERANCE);
  });

  it('answers for each treatment against the control, the control as b', () => {
    expect(response.answers.map(({ a, b }) => [a, b])).toEqual([
      ['A', 'Control'],
      ['B', 'Control'],
    ]);
    expect(response.decidedBy!.procedure).toBe('dunnett');
  });

  it('is judged by Dunnett as published where the user chose it', () => {
    const byDunnett = onlyResponse(
      reportFromPlotTable(tableInput(cells, { check: 'Control', decidedBy: 'dunnett' })),
    );
    const rows = byDunnett.comparisons.filter(({ procedure }) => procedure === 'dunnett');
    rows.forEach((row, i) => {
      expectRelative(row.t, computed.dunnett.t[i]!, TOLERANCE);
      expectRelative(row.p, computed.dunnett.p_two_sided[i]!, 1e-7);
      expectRelative((row.upper! - row.difference) / row.standardError!, computed.dunnett.crit05_two, 1e-8);
    });
    expect(byDunnett.answers.map(({ difference }) => difference)).toEqual(['Not settled', 'Real']);
    expect(byDunnett.decidedBy).toMatchObject({ procedure: 'dunnett', chanceOfOneFalseReal: 0.05 });
  });
});

interface OneWay {
  readonly anova: { readonly grp: { F: number; p: number } };
  readonly dunnett: { readonly t: number[]; readonly p_two_sided: number[]; readonly crit05_two: number };
}

describe('the detectable difference of four blocks and six treatments (fixtures/power-tables)', () => {
  it('is the tabulated number of residual standard deviations', () => {
    const cells = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
    const response = onlyResponse(reportFromPlotTable(tableInput(cells)));
    const tabled = fixtureTable('power-tables/mdd-rcbd-pairwise.csv').find(
      ({ t, r, alpha, power }) => t === '6' && r === '4' && Number(alpha) === 0.05 && Number(power) === 0.8,
    )!;
    const sigma = Math.sqrt(sourceRow(response, 'error').ms!);
    expectRelative(response.detectable!.difference / sigma, Number(tabled.mdd_in_sigma), 1e-8);
    expect(response.detectable!.lower).toBeLessThan(response.detectable!.difference);
    expect(response.detectable!.upper).toBeGreaterThan(response.detectable!.difference);
  });
});
