import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/export/plain-text.ts';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import { type ReportModel, reportModelSchema } from '../../src/findings/report-model.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { fixtureTable } from '../analyses/fixture-data.ts';
import { onlyResponse, stripsInput, stripTrial } from './report-inputs.ts';

const strip = fc.option(fc.integer({ min: 6000, max: 9000 }), { freq: 8 });
const money = fc.option(fc.integer({ min: 0, max: 200 }), { freq: 4 });

/** Whole trials: two to four treatments, one to five blocks, strips lost, prices and costs known or not. */
const trial = fc
  .record({
    yields: fc
      .tuple(fc.integer({ min: 2, max: 4 }), fc.integer({ min: 1, max: 5 }))
      .chain(([treatments, blocks]) =>
        fc.array(fc.array(strip, { minLength: blocks, maxLength: blocks }), {
          minLength: treatments,
          maxLength: treatments,
        }),
      ),
    costs: fc.array(money, { minLength: 4, maxLength: 4 }),
    pricePerKg: fc.constantFrom(null, 0.15, 0.4),
    withCheck: fc.boolean(),
    marginKgPerHa: fc.constantFrom(null, 300),
    design: fc.constantFrom('randomizedCompleteBlocks' as const, 'completelyRandomized' as const),
    randomised: fc.constantFrom(null, true, false),
  })
  .map(({ yields, costs, pricePerKg, withCheck, marginKgPerHa, design, randomised }) => {
    const made = stripTrial(Object.fromEntries(yields.map((own, i) => [`T${i}`, own])), {
      design,
      randomised,
    });
    const treatments = made.trial.treatments.map((own, i) => ({
      ...own,
      isCheck: withCheck && i === 0,
      costPerHa: costs[i] ?? null,
    }));
    const inference = { ...made.trial.inference, marginKgPerHa };
    return {
      ...made,
      trial: { ...made.trial, treatments, inference, economics: { pricePerKg, currency: 'EUR' } },
    };
  });

type Made = { readonly trial: TrialDocument; readonly strips: ReturnType<typeof stripTrial>['strips'] };

function reportOf(made: Made, changes: Partial<TrialDocument> = {}): ReportModel {
  return reportFromStrips(stripsInput({ ...made, trial: { ...made.trial, ...changes } }));
}

describe('reports of whole trials', () => {
  it('hold their contract, and money is null exactly where price, cost or error is unknown', () => {
    fc.assert(
      fc.property(trial, (made) => {
        const report = reportOf(made);
        v.parse(reportModelSchema, report);
        expect(JSON.stringify(report)).not.toMatch(/NaN|Infinity|undefined/);
        expect(plainText(report)).not.toMatch(/NaN|Infinity|undefined/);
        const response = onlyResponse(report);
        response.answers.forEach((answer, i) => {
          const row = response.economics[i]!;
          expect([row.a, row.b]).toEqual([answer.a, answer.b]);
          const judged = answer.interval.lower !== null;
          expect(answer.difference === null).toBe(!judged);
          expect(answer.money === null).toBe(!judged || row.missing.length > 0);
          if (answer.money === 'Pays') expect(row.netReturnLower).toBeGreaterThan(0);
          if (answer.money === 'Does not pay') expect(row.netReturnUpper).toBeLessThan(0);
        });
      }),
      { numRuns: 200, seed: 20260902 },
    );
  });

  it('come to the same verdicts in acres and bushels as in hectares and tonnes', () => {
    fc.assert(
      fc.property(trial, (made) => {
        const metric = onlyResponse(reportOf(made));
        const us = onlyResponse(reportOf(made, { unitSystem: 'us', crop: 'wheat' }));
        const verdicts = ({ answers }: typeof us) =>
          answers.map(({ a, b, difference, money: paid }) => [a, b, difference, paid]);
        expect(verdicts(us)).toEqual(verdicts(metric));
        expect(us.refusal?.code).toBe(metric.refusal?.code);
      }),
      { numRuns: 100, seed: 20260903 },
    );
  });
});

describe('how many blocks would find the margin', () => {
  it('is the tabulated number of replicates (fixtures/power-tables) at the CV that this trial has', () => {
    // Two treatments in three blocks; the margin is set so that margin / CV is that of the table.
    const made = stripTrial({ Untreated: [8000, 8200, 7900], Early: [8100, 8150, 8250] });
    const cv = onlyResponse(reportOf(made)).cvPercent!;
    const mean = onlyResponse(reportOf(made)).grandMean!;
    const rows = fixtureTable('power-tables/replicates-needed-rcbd-pairwise.csv').filter(
      ({ t, power, alpha }) => t === '2' && Number(power) === 0.8 && Number(alpha) === 0.05,
    );
    expect(rows.length).toBeGreaterThan(3);
    for (const row of rows) {
      const marginKgPerHa = ((Number(row.delta_pct) / Number(row.cv_pct)) * cv * mean * 1000) / 100;
      const { inference } = made.trial;
      const response = onlyResponse(reportOf(made, { inference: { ...inference, marginKgPerHa } }));
      expect(response.replicatesForMargin, JSON.stringify(row)).toMatchObject({
        replicates: Number(row.reps),
      });
      const said = response.answers[0]!.wouldSettle.join(' ');
      if (response.answers[0]!.difference === 'Not settled' && Number(row.reps) > 3)
        expect(said).toContain(`About ${row.reps} blocks`);
    }
  });
});

it('a treatment on a single strip is judged by the others’ error, and says so', () => {
  const made = stripTrial(
    { Untreated: [8000, 8300, 7900], Once: [8800, null, null] },
    { design: 'completelyRandomized' },
  );
  const response = onlyResponse(reportOf(made));
  expect(response.answers[0]!.difference).not.toBeNull();
  expect(response.answers[0]!.weakens.join(' ')).toMatch(/Once has a value on a single strip/);
});

it('a chain of lost strips, where one comparison carries all that the others share, is judged and at once', () => {
  // Law: with correlations r12, r13, r23 and r12 r13 = r23 the loading of the first is 1; the interval must still be
  // wider than one t and no wider than Bonferroni's.
  const made = stripTrial({ T0: [8111, 8998], T1: [null, 8208], T2: [7864, 8512], T3: [7350, null] });
  const response = onlyResponse(reportOf(made));
  const rows = (name: string) =>
    response.comparisons.filter((own) => own.procedure === name && own.b === 'T0');
  rows('dunnett').forEach((row, i) => {
    expect(row.p!).toBeGreaterThan(row.pUnadjusted!);
    expect(row.upper!).toBeLessThan(rows('bonferroni')[i]!.upper!);
  });
  expect(rows('dunnett')).toHaveLength(3);
});
