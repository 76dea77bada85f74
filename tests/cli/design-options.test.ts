import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { answerRequest } from '../../src/cli/arguments.ts';
import { reportOf, stripverdict } from './run-stripverdict.ts';

/** Words of `answer --table t.csv` as understood, or what was wrong with them. */
function understood(...words: readonly string[]) {
  const request = answerRequest(['--table', 't.csv', ...words]);
  return request.ok ? request.value.table! : String(request.problems[0]!.details.reason);
}

describe('options of a design', () => {
  it('say what lies where', () => {
    expect(understood('--row', 'r', '--column', 'c')).toMatchObject({
      design: { row: 'r', column: 'c', factors: [] },
      splitPlot: false,
    });
    expect(understood('--block', 'b', '--main', 'm', '--sub', 's')).toMatchObject({
      design: { factors: ['m', 's'] },
      splitPlot: true,
    });
    expect(understood('--factor', 'a', '--factor', 'b', '--transform', 'sqrt')).toMatchObject({
      design: { factors: ['a', 'b'] },
      scale: 'squareRoot',
    });
    expect(understood('--covariate', 'x', '--trend', 'p', '--trend-shape', 'quadratic')).toMatchObject({
      design: { covariate: 'x', trend: 'p' },
      trendShape: 'quadratic',
    });
  });

  it('read contrasts, whose treatments may hold commas', () => {
    expect(understood('--contrast', 'early, 50=1; late, 50=-1', '--rates')).toMatchObject({
      contrasts: [
        [
          { treatment: 'early, 50', weight: 1 },
          { treatment: 'late, 50', weight: -1 },
        ],
      ],
      rates: true,
    });
    expect(understood('--contrast', 'early')).toMatch(/takes treatments with weights/);
  });

  it.each([
    [['--row', 'r'], /--row and --column go together/],
    [['--row', 'r', '--column', 'c', '--block', 'b'], /in place of --block/],
    [['--factor', 'a'], /given twice/],
    [['--main', 'm', '--block', 'b'], /--main and --sub go together/],
    [['--main', 'm', '--sub', 's'], /needs --block/],
    [['--main', 'm', '--sub', 's', '--block', 'b', '--treatment', 't'], /leave --treatment out/],
    [['--trend-shape', 'linear'], /goes with --trend/],
    [['--trend', 'p', '--trend-shape', 'cubic'], /linear or quadratic/],
    [['--transform', 'cube'], /sqrt, log or angular/],
    [['--alpha', '0.6'], /above 0 and at most 0.5/],
    [['--alpha', '0'], /above 0 and at most 0.5/],
  ])('%j is refused with the reason', (words, reason) => {
    expect(understood(...words)).toMatch(reason);
  });

  it('carry Yates’s oats from the file to four standard errors of difference, JSON and text', () => {
    const words = ['answer', '--table', 'fixtures/yates-oats-split-plot/data.csv', '--block', 'B'];
    const split = [...words, '--main', 'V', '--sub', 'N', '--response', 'Y'];
    const ran = stripverdict([...split, '--json']);
    expect(ran.code).toBe(0);
    const [response] = reportOf(ran).responses;
    // R 4.2.2, see fixtures/yates-oats-split-plot/SOURCE.md
    expect(response!.differenceKinds.map(({ standardError }) => standardError.toFixed(4))).toEqual([
      '7.0789',
      '4.4358',
      '7.6830',
      '9.7150',
    ]);
    const text = stripverdict(split);
    expect(text.code).toBe(0);
    expect(text.out).toMatch(/split plot in blocks/);
    expect(text.out).not.toMatch(/NaN|undefined/);
  });

  it('refuse an incomplete split plot with exit code 2 and a line that says what would help', () => {
    const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
    const plots = [
      'b,m,s,y',
      '1,A,x,5',
      '1,A,z,6',
      '1,B,x,5.5',
      '1,B,z,7',
      '2,A,x,5.2',
      '2,A,z,6.4',
      '2,B,x,6',
    ];
    writeFileSync(join(folder, 'split.csv'), `${plots.join('\n')}\n`);
    const words = ['answer', '--table', 'split.csv', '--block', 'b', '--main', 'm', '--sub', 's'];
    const ran = stripverdict([...words, '--response', 'y'], folder);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/The split plot is incomplete: B with z stands on 0 plots of block 2/);
    expect(ran.err).toMatch(/A value for every combination in every block/);
  });
});
