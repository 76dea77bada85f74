import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type PlotTableOptions, readPlotTable } from '../../src/intake/read-plot-table.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const PLAIN: PlotTableOptions = { treatment: null, block: null, responses: [], subsamples: false };
const read = (text: string, options: Partial<PlotTableOptions> = {}) =>
  readPlotTable(asBytes(text), 't.csv', { ...PLAIN, ...options });

// Gomez & Gomez 1984, Statistical Procedures for Agricultural Research, table 2.5 (rice yield by seeding rate), the
// first two blocks.
const RICE = 'rep,rate,yield\nR1,25,5113\nR1,50,5346\nR2,25,5398\nR2,50,5952\n';

describe('readPlotTable', () => {
  test('named columns; treatments are categories even when they are numbers', () => {
    const table = taken(read(RICE, { treatment: 'rate', block: 'rep', responses: ['yield'] }));
    expect(table.treatment).toEqual(['25', '50', '25', '50']);
    expect(table.block).toEqual(['R1', 'R1', 'R2', 'R2']);
    expect(table.row).toEqual([2, 3, 4, 5]);
    expect(table.responses).toEqual([
      { name: 'yield', unit: null, originText: '5346', origin: 5346, deviations: [-233, 0, 52, 606] },
    ]);
  });

  test('columns not named are found where only one will do, and that is said; a block is never taken unnamed', () => {
    const outcome = read(RICE);
    expect(taken(outcome)).toMatchObject({
      treatmentHeading: 'rate',
      blockHeading: null,
      block: [null, null, null, null],
    });
    expect(codesOf(outcome)).toEqual(['treatmentTaken', 'blockNotUsed', 'responseTaken']);
    expect(problemOf(outcome, 'blockNotUsed').column).toBe('rep');
  });

  test('names match exactly first, then without regard to capitals', () => {
    expect(taken(read('Trt,trt,Y\na,b,1\n', { treatment: 'trt' })).treatment).toEqual(['b']);
    expect(taken(read('Trt,Y\na,1\n', { treatment: 'TRT', responses: ['y'] })).responses[0]?.name).toBe('Y');
  });

  test.each([
    ['a name that is not there', RICE, { responses: ['yeild'] }, 'noSuchColumn', null],
    ['a column for two purposes', RICE, { treatment: 'rate', responses: ['rate'] }, 'columnUsedTwice', null],
    ['two numeric columns left', 'trt,a,b\nx,1,2\n', {}, 'askWhichColumn', null],
    ['no numeric column', 'trt,a\nx,y\n', {}, 'askWhichColumn', null],
    ['no treatment', 'foo,yield\nx,1\n', {}, 'askWhichColumn', null],
    ['two treatments', 'trt,treatment,yield\nx,x,1\n', {}, 'askWhichColumn', null],
    ['a blank treatment', 'trt,yield\nx,1\n ,2\n', {}, 'blankLevel', 3],
    ['a blank block', 'trt,rep,yield\nx,1,1\nx,,2\n', { block: 'rep' }, 'blankLevel', 3],
    ['text in the response', 'trt,yield\nx,1\ny,2\nz,3 t\n', {}, 'notANumber', 4],
    ['infinity', 'trt,yield\nx,1\ny,inf\n', {}, 'notANumber', 3],
    ['no values', 'trt,yield\nx,NA\ny,\n', { responses: ['yield'] }, 'noValues', null],
  ])('refuses %s', (_, text, options, code, row) => {
    const outcome = read(text, options);
    expect(outcome.ok).toBe(false);
    expect(problemOf(outcome, code).row).toBe(row);
  });

  test('a response that cannot be read is named, the others go on', () => {
    const outcome = read('trt,a,b\nx,1,oops\ny,2,3\n', { responses: ['a', 'b'] });
    expect(taken(outcome).responses.map(({ name }) => name)).toEqual(['a']);
    expect(problemOf(outcome, 'notANumber')).toMatchObject({
      row: 2,
      column: 'b',
      details: { text: 'oops' },
    });
  });

  test('rows of one treatment and block are plots, unless they are sub-samples', () => {
    const text = 'trt,rep,y\nA,1,10\nA,1,13\nA,1,NA\nB,1,8\nB,2,\n';
    expect(taken(read(text, { block: 'rep' })).treatment).toHaveLength(5);
    const outcome = read(text, { block: 'rep', subsamples: true });
    const { treatment, block, row, responses } = taken(outcome);
    expect([treatment, block, row]).toEqual([
      ['A', 'B', 'B'],
      ['1', '1', '2'],
      [2, 5, 6],
    ]);
    // Means by hand: (10 + 13) / 2 = 11.5, 8, none.
    expect(
      responses[0]?.deviations.map((d) => (d === null ? null : d + (responses[0]?.origin ?? 0))),
    ).toEqual([11.5, 8, null]);
    expect(problemOf(outcome, 'subsamplesAveraged').details).toEqual({ rows: 5, plots: 3 });
    expect(problemOf(outcome, 'subsamplesSkipped').details).toEqual({ count: 1 });
  });

  test('order of columns, separator and decimal mark change no value (law)', () => {
    const cents = fc.array(fc.integer({ min: 100, max: 99_999 }), { minLength: 2, maxLength: 10 });
    fc.assert(
      fc.property(cents, fc.boolean(), fc.constantFrom(';', '\t'), (values, turned, separator) => {
        const write = (sep: string, mark: string, swap: boolean) =>
          [
            ['trt', 'y'],
            ...values.map((v, i) => [
              `T${i % 2}`,
              `${Math.floor(v / 100)}${mark}${String(v % 100).padStart(2, '0')}`,
            ]),
          ]
            .map((cells) => (swap ? cells.toReversed() : cells).join(sep))
            .join('\n');
        const plain = taken(read(`${write(',', '.', false)}\n`));
        const other = taken(read(`${write(separator, ',', turned)}\n`));
        expect([other.treatment, other.responses]).toEqual([plain.treatment, plain.responses]);
      }),
      { numRuns: 60, seed: 21 },
    );
  });
});
