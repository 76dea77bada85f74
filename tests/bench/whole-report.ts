import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import type { ReportModel } from '../../src/findings/report-model.ts';
import { TREATMENTS } from './trials-to-analyse.ts';

/** The report model of one trial as the command line and the screens get it, sentences included. */
export function wholeReport(values: readonly number[]): ReportModel {
  return reportFromPlotTable({
    table: {
      file: 'plots.csv',
      treatmentHeading: 'treatment',
      blockHeading: 'block',
      row: values.map((_, i) => i + 2),
      treatment: values.map((_, i) => `T${i % TREATMENTS}`),
      block: values.map((_, i) => `B${Math.floor(i / TREATMENTS)}`),
      responses: [{ name: 'yield', unit: null, origin: 0, deviations: values }],
    },
    unit: 'kg/ha',
    check: null,
    alpha: 0.05,
    decidedBy: 'tukey',
    margin: 300,
    randomised: true,
    madeBy: 'bench',
    files: [],
    problems: [],
  });
}
