import { describe, expect, it } from 'vitest';
import { tTwoSidedP } from '../../analyses/distributions/t.ts';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import { fixtureCells, onlyResponse, stripsInput, stripTrial, tableInput } from './report-inputs.ts';

const soy = fixtureCells('snedecor-soybean/data.csv', 'trt', 'block', 'failures');

describe('without each block in turn', () => {
  const response = onlyResponse(
    reportFromPlotTable(tableInput(soy, { check: 'Check', better: 'lower', decidedBy: 'lsd' })),
  );

  it('gives what the trial without that block gives (law)', () => {
    expect(response.leaveOneBlockOut.map(({ block }) => block)).toEqual(['1', '2', '3', '4', '5']);
    for (const { block, comparisons } of response.leaveOneBlockOut) {
      const kept = soy.filter(([, own]) => own !== block);
      const alone = onlyResponse(
        reportFromPlotTable(tableInput(kept, { check: 'Check', better: 'lower', decidedBy: 'lsd' })),
      );
      expect(comparisons.map(({ difference }) => difference)).toEqual(
        alone.answers.map(({ difference }) => difference),
      );
      comparisons.forEach((own, i) => {
        expect(own.lower).toBeCloseTo(alone.answers[i]!.interval.lower!, 10);
        expect(own.estimate).toBeCloseTo(alone.answers[i]!.estimate, 10);
      });
    }
  });

  it('marks the blocks that change a verdict, and says so where one block makes the answer', () => {
    for (const { comparisons, changes } of response.leaveOneBlockOut)
      expect(changes).toBe(comparisons.some((own, i) => own.difference !== response.answers[i]!.difference));
    const made = response.answers.filter(({ weakens }) =>
      /One block makes the answer/.test(weakens.join(' ')),
    );
    for (const { difference } of made) expect(difference).toBe('Real');
    expect(made.length > 0).toBe(
      response.answers.some(
        ({ difference }, i) =>
          difference === 'Real' &&
          response.leaveOneBlockOut.some(({ comparisons }) => comparisons[i]!.difference !== 'Real'),
      ),
    );
  });

  it('is not asked of two blocks', () => {
    const two = soy.filter(([, block]) => block === '1' || block === '2');
    expect(onlyResponse(reportFromPlotTable(tableInput(two))).leaveOneBlockOut).toEqual([]);
  });
});

describe('chances', () => {
  it('that a treatment is better is half the p of its t, or one minus it (flat prior: Box & Tiao 1973)', () => {
    const response = onlyResponse(reportFromPlotTable(tableInput(soy, { check: 'Check', better: 'lower' })));
    for (const own of response.chances!.comparisons) {
      const lsd = response.comparisons.find(
        ({ procedure, a, b }) => procedure === 'lsd' && a === own.a && b === own.b,
      )!;
      const half = tTwoSidedP(lsd.t!, lsd.df!) / 2;
      expect(own.better).toBeCloseTo(lsd.difference < 0 ? 1 - half : half, 12);
      expect(own.beatsBreakEven).toBeNull();
    }
    expect(response.chances!.best.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 12);
    expect(response.chances!.best.find(({ treatment }) => treatment === 'Check')!.chance).toBeLessThan(0.01);
  });

  it('that it beats its cost is one half where the difference is its break-even (law)', () => {
    const made = stripTrial({ Untreated: [8000, 8200, 7900], Early: [8300, 8550, 8250] });
    const difference = onlyResponse(reportFromStrips(stripsInput(made))).answers[0]!.estimate * 1000;
    const treatments = made.trial.treatments.map((own) => ({
      ...own,
      costPerHa: own.isCheck ? 0 : difference * 0.2,
      applicationCostPerHa: 0,
    }));
    const economics = { pricePerKg: 0.2, currency: 'EUR' };
    const trial = { ...made.trial, treatments, economics };
    const response = onlyResponse(reportFromStrips(stripsInput({ ...made, trial })));
    expect(response.chances!.comparisons[0]!.beatsBreakEven).toBeCloseTo(0.5, 9);
    expect(response.chances!.comparisons[0]!.better).toBeGreaterThan(0.5);
  });
});

it('the best of five products at a CV of 5 % in four blocks is flattered by 2.9 % of the mean', () => {
  // Harter (1961): the largest of five, 1.16296, times 5 % / sqrt(4).
  const products = ['Untreated', 'A', 'B', 'C', 'D', 'E'];
  const values = Object.fromEntries(
    products.map((name, i) => [
      name,
      [0, 1, 2, 3].map((b) => 8000 + 90 * b + 400 * Math.sin(3 * i + 5 * b * (i + 1))),
    ]),
  );
  const response = onlyResponse(reportFromStrips(stripsInput(stripTrial(values))));
  const { flattery, cvPercent } = response;
  if (flattery === null) throw new Error('expected the best to be a product, got the check');
  expect(flattery.of).toBe(5);
  expect((flattery.percentOfMean! * 5) / cvPercent!).toBeCloseTo(2.907, 3);
});
