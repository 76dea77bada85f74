import { describe, expect, it } from 'vitest';
import type { ReportResponse } from '../../src/findings/report-model.ts';
import { onlyResponse } from './report-inputs.ts';
import { type Asked, fixtureText, reportOfText } from './table-questions.ts';

/** Law: what levels are called changes no figure and no finding, also where both factors call theirs 1, 2, 3. */
const CASES = [
  [
    'yates-oats-split-plot',
    { block: 'B', responses: ['Y'], splitPlot: true, design: { factors: ['V', 'N'] } },
  ],
  [
    'gomez-rice-split-plot',
    { block: 'rep', responses: ['yield'], splitPlot: true, design: { factors: ['nitro', 'variety'] } },
  ],
] as const satisfies readonly (readonly [string, Asked])[];

/** The table with the levels of both factors numbered in the order in which they first appear. */
function numbered(text: string, factors: readonly string[]): string {
  const lines = text
    .trim()
    .split('\n')
    .map((line) => line.replaceAll('"', '').split(','));
  const [headings, ...rows] = lines as [string[], ...string[][]];
  for (const factor of factors) {
    const at = headings.indexOf(factor);
    const levels = [...new Set(rows.map((row) => row[at]!))];
    for (const row of rows) row[at] = String(levels.indexOf(row[at]!) + 1);
  }
  return [headings, ...rows].map((row) => row.join(',')).join('\n');
}

const blockLines = ({ answers }: ReportResponse) =>
  answers.map(({ weakens }) => weakens.filter((line) => line.startsWith('One block makes')).length);

describe.each(CASES)('%s with factors whose levels share their names', (name, asked) => {
  const own = onlyResponse(reportOfText(fixtureText(name), asked));
  const shared = onlyResponse(reportOfText(numbered(fixtureText(name), asked.design.factors), asked));

  it('has a name of its own for each comparison', () => {
    const names = shared.answers.map(({ a, b }) => `${a} / ${b}`);
    expect(new Set(names).size).toBe(names.length);
    const [first, second] = asked.design.factors;
    expect(names.every((text) => text.startsWith(`${first} `) || text.startsWith(`${second} `))).toBe(true);
    // Where names tell the factors apart they stand alone.
    expect(own.answers.every(({ a }) => !a.startsWith(`${first} `))).toBe(true);
  });

  it('says of single blocks what it says under other names', () => {
    expect(blockLines(shared)).toEqual(blockLines(own));
    shared.leaveOneBlockOut.forEach(({ comparisons, changes }, block) => {
      expect(changes).toBe(own.leaveOneBlockOut[block]!.changes);
      for (const { a, b, difference } of comparisons) {
        const place = shared.answers.findIndex((answer) => answer.a === a && answer.b === b);
        const was = own.answers[place]!;
        const row = own.leaveOneBlockOut[block]!.comparisons.find(
          (one) => one.a === was.a && one.b === was.b,
        );
        expect(difference).toBe(row!.difference);
      }
    });
  });
});

it('in one of these trials a single block makes an answer, so that the law has something to hold', () => {
  const counts = CASES.flatMap(([name, asked]) =>
    blockLines(onlyResponse(reportOfText(fixtureText(name), asked))),
  );
  expect(Math.max(...counts)).toBeGreaterThan(0);
});
