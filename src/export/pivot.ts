import type { Frame } from 'danfojs';
import { treatmentsOf } from '../figures/treatment-marks.ts';
import type { ReportModel } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import { type Cell, type ReportTable, withUnitInHeading } from './report-table.ts';

/**
 * Strip values of one response as treatments by blocks, for the trial summary. Means are plain means of the strips
 * that the answer uses; they differ from adjusted means where blocks lack treatments.
 */
export interface TreatmentByBlock {
  readonly response: string;
  readonly unit: string | null;
  readonly treatments: readonly string[];
  readonly blocks: readonly string[];
  /** By treatment, then block; the mean where a block holds a treatment twice, null where it holds none. */
  readonly cells: readonly (readonly (number | null)[])[];
  readonly treatmentMeans: readonly (number | null)[];
  readonly blockMeans: readonly (number | null)[];
}

interface Entry extends Readonly<Record<string, number>> {
  readonly treatment: number;
  readonly block: number;
  readonly value: number;
}

/** No block at all: a completely randomized trial has rows and no columns. */
const NO_BLOCK = -1;

/**
 * The only place for danfojs, loaded when asked for. Two traps are kept away from it: it counts null as 0 in a mean,
 * so only strips with values go in; and it joins group keys by a hyphen, so groups are numbers, never names.
 */
export async function treatmentByBlock(report: ReportModel, response: string): Promise<TreatmentByBlock> {
  const treatments = treatmentsOf(report);
  const blocks = [...new Set(report.strips.flatMap(({ block }) => block ?? []))];
  const entries = entriesOf(report, response, treatments, blocks);
  const unit = report.responses.find(({ name }) => name === response)?.unit ?? null;
  if (entries.length === 0) return emptyTable(response, unit, treatments, blocks);
  const { DataFrame } = await import('danfojs');
  const frame = new DataFrame(entries);
  const cellMeans = groupMeans(frame, ['treatment', 'block']);
  const byTreatment = groupMeans(frame, ['treatment']);
  const byBlock = groupMeans(frame, ['block']);
  return {
    response,
    unit,
    treatments,
    blocks,
    cells: treatments.map((_, t) => blocks.map((_, b) => cellMeans.get(`${t},${b}`) ?? null)),
    treatmentMeans: treatments.map((_, t) => byTreatment.get(String(t)) ?? null),
    blockMeans: blocks.map((_, b) => byBlock.get(String(b)) ?? null),
  };
}

function entriesOf(
  report: ReportModel,
  response: string,
  treatments: readonly string[],
  blocks: readonly string[],
): readonly Entry[] {
  return report.strips.flatMap((strip) => {
    const value = strip.values.find((own) => own.response === response)?.value ?? null;
    if (!strip.used || value === null) return [];
    const block = strip.block === null ? NO_BLOCK : blocks.indexOf(strip.block);
    return [{ treatment: treatments.indexOf(strip.treatment), block, value }];
  });
}

function groupMeans(frame: Frame, keys: readonly string[]): ReadonlyMap<string, number> {
  const { values } = frame.groupby(keys).col(['value']).agg({ value: 'mean' });
  return new Map(values.map((row) => [row.slice(0, keys.length).join(','), row[keys.length] ?? Number.NaN]));
}

function emptyTable(
  response: string,
  unit: string | null,
  treatments: readonly string[],
  blocks: readonly string[],
): TreatmentByBlock {
  return {
    response,
    unit,
    treatments,
    blocks,
    cells: treatments.map(() => blocks.map(() => null)),
    treatmentMeans: treatments.map(() => null),
    blockMeans: blocks.map(() => null),
  };
}

/** The table as CSV: a row a treatment, a column a block, means at the end of both. */
export async function treatmentByBlockCsv(report: ReportModel, response: string): Promise<string> {
  return csvText(pivotTable(await treatmentByBlock(report, response)));
}

function pivotTable(pivot: TreatmentByBlock): ReportTable {
  const rows: (readonly Cell[])[] = pivot.treatments.map((treatment, t) => [
    treatment,
    ...(pivot.cells[t] ?? []),
    pivot.treatmentMeans[t] ?? null,
  ]);
  return {
    name: 'treatment-by-block',
    headings: [
      withUnitInHeading(pivot.response, pivot.unit),
      ...pivot.blocks.map((block) => `block ${block}`),
      'mean',
    ],
    rows: [...rows, ['mean', ...pivot.blockMeans, null]],
  };
}
