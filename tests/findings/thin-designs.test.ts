import { describe, expect, it } from 'vitest';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { type Cell, onlyResponse, sourceRow, tableInput } from './report-inputs.ts';
import { reportOfText } from './table-questions.ts';

/** What is refused, and what is shown as numbers only, as the design lays down. */
function analysed(cells: readonly Cell[], changes = {}) {
  return onlyResponse(reportFromPlotTable(tableInput(cells, changes)));
}

describe('numbers only, without replication', () => {
  const oneBlock: readonly Cell[] = [
    ['A', '1', 5],
    ['B', '1', 6],
    ['C', '1', 8],
  ];

  it.each([
    ['one block', oneBlock],
    ['one strip a treatment, no blocks', oneBlock.map(([a, , value]): Cell => [a, null, value])],
    ['two strips', oneBlock.slice(0, 2)],
    [
      'a chain of pairs',
      [
        ['A', '1', 5],
        ['B', '1', 6],
        ['B', '2', 7],
        ['C', '2', 9],
      ] as readonly Cell[],
    ],
  ])('%s: means and differences, no verdict, no error', (_, cells) => {
    const response = analysed(cells);
    expect(response.refusal).toBeNull();
    expect(sourceRow(response, 'error')).toMatchObject({ df: 0, ms: null, f: null, p: null });
    expect(response.means.length).toBeGreaterThan(1);
    expect(response.comparisons.length).toBeGreaterThan(0);
    expect(response.decidedBy).toBeNull();
    expect(response.lsd.value).toBeNull();
    for (const answer of response.answers) {
      expect(answer.difference).toBeNull();
      expect(answer.money).toBeNull();
      expect(answer.differenceSentence).toMatch(/^Numbers only, no replication: /);
      expect(answer.wouldSettle.join(' ')).toMatch(/Replication/);
    }
  });

  it('gives the plain differences', () => {
    const differences = analysed(oneBlock, { check: 'A' }).answers.map(({ a, b, estimate }) => [
      a,
      b,
      estimate,
    ]);
    expect(differences).toEqual([
      ['B', 'A', 1],
      ['C', 'A', 3],
    ]);
  });
});

describe('refusals', () => {
  it.each([
    [
      'one treatment',
      [
        ['A', '1', 5],
        ['A', '2', 6],
      ],
      'tooFewTreatments',
    ],
    [
      'all plots lost',
      [
        ['A', '1', null],
        ['B', '1', null],
      ],
      'tooFewTreatments',
    ],
    [
      'one treatment lost',
      [
        ['A', '1', 5],
        ['A', '2', 6],
        ['B', '1', null],
      ],
      'tooFewTreatments',
    ],
    [
      'one value everywhere',
      [
        ['A', '1', 5],
        ['B', '1', 5],
        ['A', '2', 5],
        ['B', '2', 5],
      ],
      'constantResponse',
    ],
    [
      'no remainder at all',
      [
        ['A', '1', 5],
        ['B', '1', 6],
        ['A', '2', 7],
        ['B', '2', 8],
      ],
      'noErrorVariation',
    ],
    [
      'treatments that line up with blocks',
      [
        ['A', '1', 5],
        ['A', '1', 6],
        ['B', '2', 7],
        ['B', '2', 9],
      ],
      'confoundedTerms',
    ],
  ] as const)('%s', (_, cells, code) => {
    const response = analysed(cells);
    expect(response.refusal).toMatchObject({ code });
    expect(response.anova).toEqual([]);
    expect(response.means).toEqual([]);
    expect(response.answers).toEqual([]);
    expect(response.refusal!.whatWouldHelp).toMatch(/\w/);
  });

  it('names the treatments that no shared block links', () => {
    const cells: readonly Cell[] = [
      ['A', '1', 5],
      ['B', '1', 6],
      ['A', '2', 5.5],
      ['B', '2', 6.1],
      ['C', '3', 7],
      ['D', '3', 8],
    ];
    const { message, whatWouldHelp } = analysed(cells).refusal!;
    expect(message).toMatch(/groups of treatments: A and B; C and D\.$/);
    expect(whatWouldHelp).toContain('an analysis of A and B, and one of C and D alone');
    expect(whatWouldHelp).toContain('a block that holds treatments of both');
    // Law: what is said to be comparable alone is analysed alone.
    expect(analysed(cells.slice(0, 4)).refusal).toBeNull();
  });

  it('names the treatments that can be compared beside a covariate which keeps others apart', () => {
    const rows = [1, 2, 3].flatMap((at) =>
      ['A', 'B', 'C', 'D'].map((name, k) => `${name},${k < 2 ? 1 : 2},${5 + k + Math.sin(7 * at + k)}`),
    );
    const text = ['product,stand,yield', ...rows].join('\n');
    const asked = { treatment: 'product', responses: ['yield'], design: { covariate: 'stand' } };
    const { code, message, whatWouldHelp } = reportOfText(text, asked).responses[0]!.refusal!;
    expect(code).toBe('confoundedTerms');
    expect(message).toMatch(/Beside the covariate, .* these groups alone: A and B; C and D\.$/);
    expect(whatWouldHelp).toContain('A and B, and one of C and D alone');
  });

  it.each([
    [{ decidedBy: 'dunnett' as const }, 'procedureNeedsCheck'],
    [{ comparisons: 'againstCheck' as const }, 'noCheck'],
    [{ comparisons: 'named' as const }, 'noNamedPairs'],
    [{ alpha: 0.7 }, 'alphaOutOfRange'],
  ])('what cannot be asked for: %o', (changes, code) => {
    const cells: readonly Cell[] = ['1', '2', '3', '4'].flatMap((block, i): Cell[] => [
      ['A', block, 5 + i],
      ['B', block, 6 + i * 1.2],
      ['C', block, 7.3 + i * 0.7],
    ]);
    expect(analysed(cells, changes).refusal?.code).toMatch(code);
  });

  it('a check that is not in the table stops the analysis and names the treatments', () => {
    const cells: readonly Cell[] = [
      ['A', '1', 5],
      ['B', '1', 6],
      ['A', '2', 6],
      ['B', '2', 7.5],
    ];
    const report = reportFromPlotTable(tableInput(cells, { check: 'Untreated' }));
    expect(report.responses).toEqual([]);
    expect(report.problems).toHaveLength(1);
    expect(report.problems[0]).toMatchObject({ code: 'checkNotFound', severity: 'error', file: 'plots.csv' });
    expect(report.problems[0]!.whatToDo).toMatch(/A and B/);
  });
});

describe('uneven designs', () => {
  const complete: readonly Cell[] = ['1', '2', '3', '4'].flatMap((block, i): Cell[] => [
    ['A', block, 5 + i * 0.4],
    ['B', block, 6.2 + i * 0.5],
    ['C', block, 7.3 + i * 0.3 + (i % 2) * 0.2],
  ]);

  it('a check that stands twice in every block is no gap: means stay as they are, and nothing is weaker for it', () => {
    const doubled: readonly Cell[] = [
      ...complete,
      ...['1', '2', '3', '4'].map((block, i): Cell => ['A', block, 5.2 + i * 0.35]),
    ];
    const response = onlyResponse(reportFromPlotTable(tableInput(doubled, { check: 'A' })));
    expect(response.design).toBe('randomizedCompleteBlocks');
    // Law: with the same numbers in every block least squares gives the plain means.
    for (const { mean, adjustedMean, treatment, n } of response.means) {
      expect(adjustedMean).toBeCloseTo(mean!, 12);
      expect(n).toBe(treatment === 'A' ? 8 : 4);
    }
    const weakens = response.answers.flatMap((answer) => answer.weakens).join(' ');
    expect(weakens).not.toContain('adjusted for the blocks');
  });

  it('names a treatment that stands twice in a block, and fits least squares', () => {
    const report = reportFromPlotTable(tableInput([...complete, ['A', '1', 5.3]]));
    expect(report.problems.map(({ code }) => code)).toEqual(['treatmentRepeatedInBlock']);
    expect(onlyResponse(report).design).toBe('incompleteBlocks');
  });

  it('takes every treatment twice in every block as complete', () => {
    const doubled = [...complete, ...complete.map(([a, b, v]): Cell => [a, b, v! + (b === '2' ? 0.1 : 0.3)])];
    expect(analysed(doubled).design).toBe('randomizedCompleteBlocks');
  });

  it('leaves out a treatment that lost every plot, and says so', () => {
    const report = reportFromPlotTable(tableInput([...complete, ['D', '1', null], ['D', '2', null]]));
    expect(report.problems.map(({ code }) => code)).toEqual(['treatmentWithoutValues']);
    expect(onlyResponse(report).means.map(({ treatment }) => treatment)).toEqual(['A', 'B', 'C']);
  });

  it('keeps LSD and letters but answers nothing when the check lost every plot', () => {
    const cells = complete.map(([a, b, value]): Cell => [a, b, a === 'A' ? null : value]);
    const report = reportFromPlotTable(tableInput(cells, { check: 'A' }));
    expect(report.problems.map(({ code }) => code)).toContain('checkWithoutValues');
    expect(onlyResponse(report)).toMatchObject({ answers: [], decidedBy: null, refusal: null });
    const lsd = onlyResponse(report).comparisons.filter(({ procedure }) => procedure === 'lsd');
    expect(lsd.map(({ a, b }) => [a, b])).toEqual([['C', 'B']]);
  });
});
