import { describe, expect, it } from 'vitest';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import type { ReportResponse } from '../../src/findings/report-model.ts';
import { expectRelative, fixtureExpected, fixtureTable } from '../analyses/fixture-data.ts';
import {
  type Cell,
  fixtureCells,
  onlyResponse,
  stripsInput,
  stripTrial,
  tableInput,
} from './report-inputs.ts';
import { reportOfText } from './table-questions.ts';

/** Expected values: R 4.2.2, see SOURCE.md of each fixture. */
const R = 1e-9;

function analysed(cells: readonly Cell[], changes: Parameters<typeof tableInput>[1] = {}): ReportResponse {
  return onlyResponse(reportFromPlotTable(tableInput(cells, changes)));
}

function check(response: ReportResponse, id: string): ReportResponse['checks'][number] {
  const found = response.checks.find((own) => own.id === id);
  if (found === undefined) throw new Error(`no check ${id} among ${response.checks.map((own) => own.id)}`);
  return found;
}

function agreement(response: ReportResponse, id: string): ReportResponse['agreement'][number] {
  const found = response.agreement.find((own) => own.id === id);
  if (found === undefined) throw new Error(`no test ${id} among ${response.agreement.map((own) => own.id)}`);
  return found;
}

/** Two columns of pairs as treatments in blocks. */
function pairedCells(path: string, block: string, columns: readonly [string, string]): Cell[] {
  return columns.flatMap((column) =>
    fixtureCells(path, block, null, column).map(([own, , value]): Cell => [column, own, value]),
  );
}

describe('checks of assumptions', () => {
  it('are those of R for rice at six rates in four blocks (Gomez & Gomez 1984)', () => {
    const { computed } = fixtureExpected<{ computed: Rice }>('gomez-seeding-rate');
    const response = analysed(fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield'));
    expectRelative(check(response, 'normality').statistic, computed.shapiro_resid.W, R);
    // Royston's polynomial is carried to six digits.
    expectRelative(check(response, 'normality').p, computed.shapiro_resid.p, 1e-6);
    expectRelative(check(response, 'additivity').statistic, computed.nonadditivity.F, R);
    expectRelative(check(response, 'additivity').p, computed.nonadditivity.p, R);
    expectRelative(agreement(response, 'friedman').statistic, computed.friedman.chisq, R);
    expectRelative(agreement(response, 'friedman').p, computed.friedman.p, R);
    expect(response.checks.map(({ inDoubt }) => inDoubt)).toEqual([false, false, false, false, false, null]);
  });

  it('test variances as R does without blocks, where residuals and values are one (PlantGrowth)', () => {
    const { computed } = fixtureExpected<{ computed: OneWay }>('plant-growth');
    const response = analysed(fixtureCells('plant-growth/data.csv', 'group', null, 'weight'));
    expectRelative(check(response, 'equalVariances').statistic, computed.bartlett.K2, R);
    expectRelative(check(response, 'equalVariances').p, computed.bartlett.p, R);
    expectRelative(check(response, 'equalVariancesSturdy').statistic, computed.levene_median.F, R);
    expectRelative(check(response, 'equalVariancesSturdy').p, computed.levene_median.p, R);
    expect(response.checks.some(({ id }) => id === 'additivity')).toBe(false);
  });

  it('work on the pairs where there are two treatments, and weaken the answer where one is in doubt (sleep)', () => {
    const { computed } = fixtureExpected<{ computed: Paired }>('student-sleep');
    const response = analysed(pairedCells('student-sleep/data.csv', 'id', ['drug1', 'drug2']));
    const normality = check(response, 'normalityOfDifferences');
    expectRelative(normality.statistic, computed.shapiro_diff.W, R);
    expectRelative(normality.p, computed.shapiro_diff.p, 1e-6);
    expect(normality).toMatchObject({ inDoubt: true });
    expect(response.answers[0]!.weakens.join(' ')).toMatch(/A check is in doubt.*Shapiro-Wilk.*p = 0.033/);
    // The published answer stands: t = -4.06, p = .0028 (Student 1908).
    expect(response.answers[0]!.difference).toBe('Real');
    expectRelative(agreement(response, 'signFlips').p, computed.sign_flip.p_two, R);
    expectRelative(
      agreement(response, 'signedRank').p,
      computed.sign_flip.wilcoxon_exact_with_midranks.p_two,
      R,
    );
    expect(agreement(response, 'signFlips')).toMatchObject({
      arrangements: 1024,
      exact: true,
      inDoubt: false,
    });
  });

  it('see the trend that a field has along its strips, and name the strip that stands out', () => {
    // Law: residuals that rise with the place of the strip are the trend; a strip moved by 100 is the outlier.
    const orders = [
      [0, 1, 2],
      [2, 0, 1],
      [1, 2, 0],
      [0, 2, 1],
    ];
    const values: Record<string, number[]> = { A: [], B: [], C: [] };
    orders.forEach((order, block) => {
      for (const [level, name] of ['A', 'B', 'C'].entries())
        values[name]!.push(50 + 3 * (order.indexOf(level) + 1) + 0.3 * Math.sin(7 * level + 3 * block));
    });
    const { trial, strips } = stripTrial(values);
    const placed = trial.strips.map((strip, i) => {
      const block = Math.floor(i / 3);
      return { ...strip, place: 3 * block + orders[block]!.indexOf(i % 3) + 1 };
    });
    const input = stripsInput({ trial: { ...trial, strips: placed }, strips });
    const response = onlyResponse(reportFromStrips(input));
    expect(check(response, 'trendAcrossField')).toMatchObject({ inDoubt: true });
    const moved = strips.map((strip) =>
      strip.strip === 'B in 2' ? { ...strip, values: { yield: strip.values.yield! + 100 } } : strip,
    );
    const outlier = onlyResponse(reportFromStrips({ ...input, strips: moved }));
    expect(check(outlier, 'outlyingStrip')).toMatchObject({ inDoubt: true });
    expect(check(outlier, 'outlyingStrip').meaning).toMatch(/B in Block 3 \(B in 2\)/);
  });

  it('are refused with the reason where the data cannot carry them, and never come out as numbers', () => {
    const two: Cell[] = [
      ['A', '1', 5],
      ['B', '1', 6.5],
      ['A', '2', 5.5],
      ['B', '2', 6.75],
    ];
    const response = analysed(two);
    expect(response.checks.map(({ id }) => id)).toEqual([
      'sensitivity',
      'normalityOfDifferences',
      'equalVariancesOfPair',
      'additivity',
      'outlyingStrip',
      'trendAcrossField',
    ]);
    for (const own of response.checks.slice(1)) {
      expect(own).toMatchObject({ statistic: null, p: null, inDoubt: null });
      expect(own.meaning).toMatch(/^Not tested: /);
    }
    expect(agreement(response, 'signFlips').meaning).toMatch(/cannot reach 0.05/);
  });
});

describe('agreeing tests', () => {
  it('Friedman with ties is that of Hollander & Wolfe (1973), p. 140', () => {
    const bases = ['Round_Out', 'Narrow_Angle', 'Wide_Angle'];
    const cells = bases.flatMap((base) =>
      fixtureTable('hollander-rounding-bases/data.csv').map(
        (row): Cell => [base, row.player!, Number(row[base])],
      ),
    );
    const { computed } = fixtureExpected<{ computed: { chisq: number; p: number } }>(
      'hollander-rounding-bases',
    );
    const response = analysed(cells);
    expectRelative(agreement(response, 'friedman').statistic, computed.chisq, R);
    expectRelative(agreement(response, 'friedman').p, computed.p, R);
    expect(agreement(response, 'randomization')).toMatchObject({ exact: false, seed: 19_350_107 });
  });

  it('count all arrangements of four treatments in four blocks, (4!)^3, and say what p they can reach', () => {
    const response = analysed(fixtureCells('montgomery-tips/data.csv', 'tip', 'block', 'y'));
    const own = agreement(response, 'randomization');
    expect(own).toMatchObject({ arrangements: 13_824, exact: true, standardErrorOfP: 0, seed: null });
    expectRelative(own.smallestP, 1 / 13_824, 1e-12);
    expect(own.p! * 13_824).toBeCloseTo(Math.round(own.p! * 13_824), 6);
  });

  it('count the signed ranks and sign flips of shoes exactly, with ties', () => {
    const { computed } = fixtureExpected<{ computed: Paired }>('shoe-wear');
    const response = analysed(pairedCells('shoe-wear/data.csv', 'id', ['A', 'B']));
    expectRelative(agreement(response, 'signFlips').p, computed.sign_flip.p_two, R);
    expectRelative(
      agreement(response, 'signedRank').p,
      computed.sign_flip.wilcoxon_exact_with_midranks.p_two,
      R,
    );
  });
});

interface Rice {
  readonly shapiro_resid: { readonly W: number; readonly p: number };
  readonly nonadditivity: { readonly F: number; readonly p: number };
  readonly friedman: { readonly chisq: number; readonly p: number };
}
interface OneWay {
  readonly bartlett: { readonly K2: number; readonly p: number };
  readonly levene_median: { readonly F: number; readonly p: number };
}
interface Paired {
  readonly shapiro_diff: { readonly W: number; readonly p: number };
  readonly sign_flip: {
    readonly p_two: number;
    readonly wilcoxon_exact_with_midranks: { readonly p_two: number };
  };
}

it('a treatment that never varies is said not to vary, not judged by the rounding of its residuals', () => {
  const cells = [0, 1, 2, 3].flatMap((b) => [`A,${b},0`, `B,${b},${6 + 0.1 * b}`, `C,${b},${6.5 - 0.1 * b}`]);
  const report = reportOfText(['product,block,yield', ...cells].join('\n'), {
    treatment: 'product',
    block: 'block',
    responses: ['yield'],
  });
  const bartlett = report.responses[0]!.checks.find(({ what }) => what.includes('Bartlett'));
  expect(bartlett).toMatchObject({ statistic: null, p: null });
  expect(bartlett!.meaning).toContain('do not vary at all');
});

it('ranks are not held against an analysis that adjusts for a covariate, which they know nothing of', () => {
  const rows = [0, 1, 2, 3].flatMap((b) =>
    ['A', 'B', 'C'].map((t, k) => `${t},${b},${(7 * b + 5 * k) % 11},${5 + k + b + Math.sin(3 * b + k)}`),
  );
  const asked = { treatment: 'product', block: 'block', responses: ['yield'] };
  const text = ['product,block,stand,yield', ...rows].join('\n');
  const friedmanOf = (design: { covariate?: string }) =>
    reportOfText(text, { ...asked, design }).responses[0]!.agreement.find(({ id }) => id === 'friedman')!;
  expect(friedmanOf({ covariate: 'stand' })).toMatchObject({ p: null, inDoubt: null });
  expect(friedmanOf({ covariate: 'stand' }).meaning).toContain('another question');
  expect(friedmanOf({}).p).toBeGreaterThan(0);
});
