import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/export/plain-text.ts';
import { textTable, wrapped } from '../../src/export/text-table.ts';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { fixtureCells, tableInput } from '../findings/report-inputs.ts';

const cells = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
const text = plainText(reportFromPlotTable(tableInput(cells, { check: '25' })));

describe('the report as plain text', () => {
  it('has one Difference line and one Money line a comparison, each beginning with its verdict', () => {
    const difference = text.match(/^Difference: .*$/gm)!;
    expect(difference).toHaveLength(5);
    for (const line of difference)
      expect(line).toMatch(/^Difference: Not settled: .*rate \d+ than with rate 25/);
    expect(text.match(/^Money: Not known: /gm)).toHaveLength(5);
  });

  it('shows the published figures under the user’s own headings', () => {
    expect(text).toMatch(/^rate +5 +1198331 +239666\.2 +2\.168 +0\.113$/m);
    expect(text).toMatch(/^LSD at 0\.05 +501\.1$/m);
    expect(text).toMatch(/^CV +6\.70 %$/m);
  });

  it('keeps to the width of a terminal, but for the lines that are searched for', () => {
    const long = text.split('\n').filter((line) => line.length > 96 && !/^(Difference|Money): /.test(line));
    expect(long).toEqual([]);
    expect(text).not.toMatch(/[ \t]$/m);
  });

  it('says why a response was not analysed, and what would help', () => {
    const refused = plainText(reportFromPlotTable(tableInput([['A', '1', 5]])));
    expect(refused).toMatch(/^Not analysed: Fewer than two treatments have values/m);
    expect(refused).toMatch(/^What would help: /m);
  });
});

describe('tables and prose', () => {
  it('aligns names left and numbers right', () => {
    expect(
      textTable([
        { heading: 'Name', align: 'left', cells: ['a', 'longer'] },
        { heading: 'n', align: 'right', cells: ['5', '12'] },
      ]),
    ).toEqual(['Name     n', '------  --', 'a        5', 'longer  12']);
  });

  it('breaks prose at blanks and never loses a word', () => {
    const prose = 'one two three four five six seven';
    const lines = wrapped(prose, 12, '  ');
    expect(lines.every((line) => line.length <= 12)).toBe(true);
    expect(lines.map((line) => line.trim()).join(' ')).toBe(prose);
    expect(wrapped('', 10, '')).toEqual(['']);
  });
});
