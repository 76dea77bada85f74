import { describe, expect, it } from 'vitest';
import { reportFromPlotTable, type TableReportInput } from '../../src/findings/report-from-plot-table.ts';
import type { ReportAnswer } from '../../src/findings/report-model.ts';
import { expectRelative } from '../analyses/fixture-data.ts';
import { onlyResponse, tableInput } from '../findings/report-inputs.ts';
import { ALPHAS, type Cell, falseRealCells, lostStripCells, strainedCells } from './cells.ts';
import { criticalValues, FAMILIES, type Family, fittedTrial, realOnes } from './short-cut.ts';
import { type SimulatedTrial, trialsOf } from './simulated-plots.ts';

const TRIALS = 2;

function answers({ response }: SimulatedTrial, family: Family, alpha: number): readonly ReportAnswer[] {
  const cells = response.plots.map(
    ({ treatment, block, deviation }) =>
      [response.treatments[treatment]!, response.blocks![block!]!, deviation] as const,
  );
  const changes: Partial<TableReportInput> = {
    alpha,
    check: 'T0',
    comparisons: family.kind,
    decidedBy: family.procedure,
  };
  return onlyResponse(reportFromPlotTable(tableInput(cells, changes))).answers;
}

/** Two treatments have no strip to lose here: the check comes first in the table, as in the cells. */
const CELLS: readonly Cell[] = [
  ...falseRealCells([
    [2, 3],
    [4, 4],
  ]),
  ...lostStripCells().filter(({ treatments }) => treatments === 4),
  ...strainedCells().filter(
    ({ errors, treatments, blocks }) => errors === 'heavyTails' && treatments === 4 && blocks === 4,
  ),
];

describe('the short cut of the simulations decides as the report does', () => {
  it.each(FAMILIES)('$name', (family) => {
    let real = 0;
    for (const cell of CELLS) {
      const next = trialsOf(cell);
      const first = fittedTrial(trialsOf(cell)().response);
      for (const alpha of ALPHAS) {
        const critical = criticalValues(first, alpha);
        for (let i = 0; i < TRIALS; i++) {
          const trial = next();
          const fitted = fittedTrial(trial.response);
          const decided = realOnes(family, fitted, critical);
          const got = answers(trial, family, alpha);
          expect(got.map(({ difference }) => difference === 'Real')).toEqual(decided);
          real += decided.filter((own) => own).length;
          got.forEach(({ estimate, interval }, at) => {
            const row = fitted[family.kind][at]!;
            expectRelative(estimate, row.difference, 1e-12);
            if (family.procedure === 'holm') return;
            expectRelative(interval.upper! - estimate, critical.of[family.name] * row.standardError, 1e-9);
          });
        }
      }
    }
    expect(real, 'both decisions must occur').toBeGreaterThan(10);
  });
});
