import type { PlotTableInput, TableReportInput } from '../../src/findings/report-from-plot-table.ts';
import type { StripReportInput } from '../../src/findings/report-from-strips.ts';
import type { ReportModel, ReportResponse } from '../../src/findings/report-model.ts';
import type { ResponseOfStrips, StripValue } from '../../src/harvest/strip-values.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { Strip, TrialDocument } from '../../src/trial/trial-document.ts';
import { fixtureTable } from '../analyses/fixture-data.ts';

/** One plot of a table: treatment, block, value; null for a lost plot. */
export type Cell = readonly [treatment: string, block: string | null, value: number | null];

export function plotTable(cells: readonly Cell[], origin = 0): PlotTableInput {
  return {
    file: 'plots.csv',
    treatmentHeading: 'rate',
    blockHeading: cells.some(([, block]) => block !== null) ? 'rep' : null,
    row: cells.map((_, i) => i + 2),
    treatment: cells.map(([treatment]) => treatment),
    block: cells.map(([, block]) => block),
    responses: [{ name: 'yield', unit: null, origin, deviations: cells.map(([, , value]) => value) }],
  };
}

export function fixtureCells(
  path: string,
  treatment: string,
  block: string | null,
  response: string,
): readonly Cell[] {
  return fixtureTable(path).map((row) => [
    row[treatment]!,
    block === null ? null : row[block]!,
    row[response] === '' || row[response] === 'NA' ? null : Number(row[response]),
  ]);
}

export function tableInput(
  cells: readonly Cell[],
  changes: Partial<TableReportInput> = {},
): TableReportInput {
  return {
    table: plotTable(cells),
    unit: null,
    check: null,
    alpha: 0.05,
    madeBy: 'test',
    files: [{ name: 'plots.csv', role: 'table', sha256: '0' }],
    problems: [],
    ...changes,
  };
}

/** A trial in complete blocks: one strip a treatment and block, side by side in the order given. */
export function stripTrial(
  values: Readonly<Record<string, readonly (number | null)[]>>,
  changes: Partial<TrialDocument> = {},
): { readonly trial: TrialDocument; readonly strips: readonly StripValue[] } {
  const names = Object.keys(values);
  const blocks = Math.max(...names.map((name) => values[name]!.length));
  const strips: Strip[] = [];
  const measured: StripValue[] = [];
  for (let block = 0; block < blocks; block++)
    for (const [at, name] of names.entries()) {
      const id = `${name} in ${block}`;
      const place = block * names.length + at + 1;
      strips.push({ id, treatment: name, block: `b${block}`, place, polygon: null });
      measured.push(stripValue(id, { yield: values[name]![block] ?? null }));
    }
  const trial: TrialDocument = {
    ...newTrial('Oat strips'),
    randomised: true,
    treatments: names.map((name, i) => ({
      id: name,
      name,
      isCheck: i === 0,
      costPerHa: null,
      applicationCostPerHa: null,
    })),
    blocks: Array.from({ length: blocks }, (_, i) => ({ id: `b${i}`, name: `Block ${i + 1}` })),
    strips,
    ...changes,
  };
  return { trial, strips: measured };
}

export function stripValue(strip: string, values: Record<string, number | null>): StripValue {
  return {
    strip,
    values,
    areaM2: 5000,
    harvestedAreaM2: 4000,
    pointsRead: null,
    pointsKept: null,
    pointsSetAside: {},
    subSamples: null,
    cvWithinPercent: null,
  };
}

const YIELD: ResponseOfStrips = { name: 'yield', quantity: 'yield', unit: null };

export function stripsInput(
  { trial, strips }: { readonly trial: TrialDocument; readonly strips: readonly StripValue[] },
  changes: Partial<StripReportInput> = {},
): StripReportInput {
  return {
    trial,
    madeBy: 'test',
    files: [],
    strips,
    responses: [YIELD],
    weighed: null,
    problems: [],
    assumptions: [],
    ...changes,
  };
}

export function onlyResponse(report: ReportModel): ReportResponse {
  if (report.responses.length !== 1)
    throw new Error(
      `expected one response, got ${report.responses.length}: ${JSON.stringify(report.problems)}`,
    );
  return report.responses[0]!;
}

export function sourceRow(response: ReportResponse, source: string): ReportResponse['anova'][number] {
  const row = response.anova.find((own) => own.source === source);
  if (row === undefined)
    throw new Error(`expected a line ${source}, got ${response.anova.map((r) => r.source)}`);
  return row;
}
