import { describe, expect, it } from 'vitest';
import { testByDesign } from '../../src/harvest/test-by-design.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { Inference, Strip, Treatment, TrialDocument } from '../../src/trial/trial-document.ts';
import { fixtureExpected, fixtureTable } from '../analyses/fixture-data.ts';

/** Published tables of variance: K. A. & A. A. Gomez (1984), a Latin square of maize and a split plot of rice (fixtures). */
interface Expected {
  readonly computed: { readonly anova: Record<string, { df: number; F: number; p: number }> };
}

function trialOf(
  strips: readonly (Partial<Strip> & { treatment: string })[],
  inference: Partial<Inference>,
  levels: (treatment: string) => [string, string] | null = () => null,
): TrialDocument {
  const start = newTrial('test');
  const blocks = [...new Set(strips.map(({ block }) => block ?? ''))];
  return {
    ...start,
    treatments: [...new Set(strips.map(({ treatment }) => treatment))].map(
      (id): Treatment => ({
        id,
        name: id,
        isCheck: false,
        costPerHa: null,
        applicationCostPerHa: null,
        factorLevels: levels(id),
      }),
    ),
    blocks: blocks.map((id) => ({ id, name: id })),
    strips: strips.map((strip, s) => ({ id: `s${s}`, block: null, place: null, polygon: null, ...strip })),
    inference: { ...start.inference, ...inference },
  };
}

describe('a value of each strip, tested by the trial’s own design', () => {
  it('in a Latin square beside rows and columns', () => {
    const rows = fixtureTable('gomez-maize-latin-square/data.csv');
    const trial = trialOf(
      rows.map(({ row, col, hybrid }) => ({ treatment: hybrid!, row: row!, column: col! })),
      { square: true },
    );
    const { F, p } = fixtureExpected<Expected>('gomez-maize-latin-square').computed.anova.hybrid!;
    const found = testByDesign(
      trial,
      rows.map((row) => Number(row.yield)),
    );
    expect(found).toMatchObject({ treatmentDf: 3, errorDf: 6 });
    expect(found.f).toBeCloseTo(F, 9);
    expect(found.p).toBeCloseTo(p, 12);
  });

  it('in a split plot each factor by its own error, the most telling p tripled', () => {
    const rows = fixtureTable('gomez-rice-split-plot/data.csv');
    const trial = trialOf(
      rows.map(({ nitro, variety, rep }) => ({ treatment: `${nitro} ${variety}`, block: rep! })),
      { factors: { first: 'nitrogen', second: 'variety', split: true } },
      (treatment) => treatment.split(' ') as [string, string],
    );
    const yields = rows.map((row) => Number(row.yield));
    const { F, p } = fixtureExpected<Expected>('gomez-rice-split-plot').computed.anova['Within|variety']!;
    const found = testByDesign(trial, yields);
    expect(found).toMatchObject({ treatmentDf: 3, errorDf: 36 });
    expect(found.f! / F).toBeCloseTo(1, 9);
    expect(found.p! / (3 * p)).toBeCloseTo(1, 6);
    // With strips that were not weighed both errors still come apart: sub levels within main plots, main levels by the whole ones.
    const lost = testByDesign(
      trial,
      yields.map((value, s) => (s === 5 ? null : value)),
    );
    expect(lost).toMatchObject({ treatmentDf: 3, errorDf: 35 });
    expect(lost.p).toBeLessThan(1e-6);
    // Main plots cannot be told apart without their blocks.
    const unblocked = { ...trial, strips: trial.strips.map((strip) => ({ ...strip, block: null })) };
    expect(testByDesign(unblocked, yields).p).toBeNull();
  });
});
