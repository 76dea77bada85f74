import { describe, expect, it } from 'vitest';
import { efficiencyOfBlocking } from '../../analyses/efficiency-of-blocking.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import { responseFromValues } from '../../analyses/response.ts';
import {
  accepted,
  expectRelative,
  factor,
  fixtureExpected,
  fixtureTable,
  numbers,
  refusalOf,
  type Table,
} from './fixture-data.ts';

const fitted = (table: Table, response: string, ...terms: readonly string[]): LinearModelFit =>
  accepted(
    fitLinearModel(
      responseFromValues(numbers(table, response)),
      terms.map((term) => factor(table, term)),
    ),
  );

describe('efficiency of blocking', () => {
  const rice = fixtureTable('gomez-seeding-rate/data.csv');

  it.each([
    ['gomez-seeding-rate', 'yield', 'rep', 'rate'],
    ['snedecor-soybean', 'failures', 'block', 'trt'],
    ['montgomery-tips', 'y', 'block', 'tip'],
  ] as const)('%s: as computed in R (1e-10)', (name, response, block, treatment) => {
    const want = fixtureExpected<{ computed: { relative_efficiency_vs_crd: number } }>(name).computed;
    const fit = fitted(fixtureTable(`${name}/data.csv`), response, block, treatment);
    const got = accepted(efficiencyOfBlocking(fit, block));
    expectRelative(got.relativeEfficiency, want.relative_efficiency_vs_crd, 1e-10);
  });

  it('seeding rate, printed: 1.63, times 0.982 for df (Gomez & Gomez 1984, section 2.2.3; from memory)', () => {
    const got = accepted(efficiencyOfBlocking(fitted(rice, 'yield', 'rep', 'rate'), 'rep'));
    expect(got.relativeEfficiency.toFixed(2)).toBe('1.63');
    expect((got.adjustedForDf / got.relativeEfficiency).toFixed(3)).toBe('0.982');
  });

  it('blocks that differ no more than strips do are worth nothing: 1', () => {
    // Block mean square made equal to the error's: by the definition the two errors are then the same
    const fit = fitted(rice, 'yield', 'rep', 'rate');
    const rows = fit.rows.map((row) => (row.term === 'rep' ? { ...row, ms: fit.error.ms } : row));
    const got = accepted(efficiencyOfBlocking({ ...fit, rows }, 'rep'));
    expectRelative(got.relativeEfficiency, 1, 1e-14);
    expect(got.adjustedForDf).toBeLessThan(1);
  });

  it('refuses incomplete blocks and no error; throws for other models', () => {
    expect(
      refusalOf(efficiencyOfBlocking(fitted(rice.slice(1), 'yield', 'rep', 'rate'), 'rep')),
    ).toMatchObject({
      code: 'emptyCell',
      details: { plots: 0 },
    });
    const one = fitted(
      rice.filter((row) => row.rep === 'R1'),
      'yield',
      'rep',
      'rate',
    );
    expect(refusalOf(efficiencyOfBlocking(one, 'rep')).code).toBe('noErrorDf');
    expect(() => efficiencyOfBlocking(fitted(rice, 'yield', 'rate'), 'rep')).toThrow(
      'expected the factor rep',
    );
  });
});
