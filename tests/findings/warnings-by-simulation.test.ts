import { describe, expect, it } from 'vitest';
import { seededGenerator } from '../../analyses/seeded-generator.ts';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import { commonOrderInBlocks } from '../../src/findings/trial-weaknesses.ts';
import { type Cell, onlyResponse, plotTable, stripsInput, stripTrial, tableInput } from './report-inputs.ts';

/** Seeded; normal errors by Box and Muller (1958). */
function normals(seed: number): () => number {
  const next = seededGenerator(seed);
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}

function names(count: number): readonly string[] {
  return Array.from({ length: count }, (_, i) => `T${i + 1}`);
}

/** Blocks of equal treatments; the first varies `ratio` times as much as the others. */
function unequalTrial(treatments: number, blocks: number, ratio: number, normal: () => number): Cell[] {
  return Array.from({ length: blocks }, (_, block) =>
    names(treatments).map((name, i): Cell => [name, `b${block}`, 100 + (i === 0 ? ratio : 1) * normal()]),
  ).flat();
}

function weakensOf(cells: readonly Cell[]): readonly (readonly string[])[] {
  const response = onlyResponse(reportFromPlotTable(tableInput(cells, { check: 'T1', randomised: true })));
  return response.answers.map(({ weakens }) => weakens);
}

/** Share of trials in which every answer carries a sentence like this. */
function shareWarned(trials: number, pattern: RegExp, trial: () => readonly Cell[]): number {
  let warned = 0;
  for (let i = 0; i < trials; i++)
    if (weakensOf(trial()).every((weakens) => weakens.some((line) => pattern.test(line)))) warned++;
  return warned / trials;
}

describe('unequal variances are said in every answer (simulation)', () => {
  const SECOND_OPINION = /^Treatments seem to vary unequally\. A second opinion/;

  // Found over 100 trials with this seed: 85; the bound lies 4.5 standard errors of 25 trials below that.
  it('8 treatments in 8 blocks, the check at three times the SD: most trials warn', () => {
    const normal = normals(11);
    expect(shareWarned(25, SECOND_OPINION, () => unequalTrial(8, 8, 3, normal))).toBeGreaterThanOrEqual(0.52);
  });

  // Two tests at level .05 warn in at most 10 % of trials; 4.5 standard errors above that with 30 trials: .35
  it('at equal variances few trials warn', () => {
    const normal = normals(12);
    expect(shareWarned(30, SECOND_OPINION, () => unequalTrial(8, 8, 1, normal))).toBeLessThan(0.35);
  });

  it('on 6 error df every answer has either the second opinion or the word that the checks are blind', () => {
    const normal = normals(13);
    const either = /^Treatments seem to vary unequally|as good as blind/;
    expect(shareWarned(40, either, () => unequalTrial(4, 3, 3, normal))).toBe(1);
  });

  it('two treatments, judged by their own differences, need neither', () => {
    const normal = normals(14);
    expect(shareWarned(20, /vary unequally|blind/, () => unequalTrial(2, 4, 3, normal))).toBe(0);
  });
});

/** Orders across the field, block by block, as the strips of a trial document. */
function placedStrips(orders: readonly (readonly string[])[]) {
  return orders.flatMap((order, block) =>
    order.map((treatment, i) => ({ block: `b${block}`, treatment, place: block * order.length + i + 1 })),
  );
}

describe('one order of treatments in every block', () => {
  const SAME_ORDER = /^The treatments lie in the same order in every block \(/;

  it('A B A B in a trial document is said in every answer', () => {
    const built = stripTrial({
      A: [5000, 6000, 5500, 6200],
      B: [5400, 6100, 6000, 6400],
      C: [5200, 6600, 5100, 6300],
    });
    const { answers } = onlyResponse(reportFromStrips(stripsInput(built)));
    expect(answers.length).toBeGreaterThan(1);
    for (const { weakens } of answers) expect(weakens.some((line) => SAME_ORDER.test(line))).toBe(true);
  });

  it('with a trend in the model it is refused: place and treatment cannot be told apart', () => {
    const cells = Array.from({ length: 12 }, (_, i): Cell => [`T${i % 3}`, `b${i % 4}`, 5 + ((i * 7) % 5)]);
    const ordered = cells.map(([name, , value], i): Cell => [name, `b${Math.floor(i / 3)}`, value]);
    const table = { ...plotTable(ordered), trend: { heading: 'place', values: cells.map((_, i) => i + 1) } };
    const response = onlyResponse(reportFromPlotTable({ ...tableInput([]), table }));
    expect(response.refusal).not.toBeNull();
    expect(response.answers).toEqual([]);
  });

  it('is not seen where one block is turned round, nor where a place is not known', () => {
    const turned = placedStrips([
      ['A', 'B', 'C'],
      ['A', 'B', 'C'],
      ['C', 'B', 'A'],
    ]);
    expect(commonOrderInBlocks(turned)).toBeNull();
    const whole = placedStrips([
      ['A', 'B'],
      ['A', 'B'],
    ]);
    expect(commonOrderInBlocks(whole)).toEqual(['A', 'B']);
    const unplaced = whole.map((strip, i) => (i === 0 ? { ...strip, place: null } : strip));
    expect(commonOrderInBlocks(unplaced)).toBeNull();
  });

  // By counting: r blocks of two treatments have one order by chance in 1 / 2^(r - 1) of the plans.
  it('two treatments in four blocks drawn by chance: near one plan in eight', () => {
    const next = seededGenerator(23);
    const plans = 4000;
    let told = 0;
    for (let i = 0; i < plans; i++) {
      const orders = Array.from({ length: 4 }, () => (next() < 0.5 ? ['A', 'B'] : ['B', 'A']));
      if (commonOrderInBlocks(placedStrips(orders)) !== null) told++;
    }
    const error = Math.sqrt((1 / 8) * (7 / 8)) / Math.sqrt(plans);
    expect(Math.abs(told / plans - 1 / 8)).toBeLessThan(4.5 * error);
  });
});
