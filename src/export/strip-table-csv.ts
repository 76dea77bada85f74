import type { ReportModel, ReportStrip } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import { type Cell, type ReportTable, withUnitInHeading, yesOrNo } from './report-table.ts';

/** One row a strip: where it lies, its values, what became of its points, whether the answer uses it and why not. */
export function stripTable(report: ReportModel): ReportTable {
  const reasons = [...new Set(report.strips.flatMap((strip) => Object.keys(strip.pointsSetAside)))];
  const values = valueColumns(report);
  return {
    name: 'strips',
    headings: [
      'strip',
      'block',
      'treatment',
      'place',
      'area (m2)',
      'harvested area (m2)',
      ...values.map(({ response, unit }) => withUnitInHeading(response, unit)),
      'points read',
      'points kept',
      ...reasons.map((reason) => `set aside: ${reason}`),
      'sub-samples',
      'CV within strip (%)',
      'used',
      'why not used',
    ],
    rows: report.strips.map((strip) => stripRow(strip, values, reasons)),
  };
}

export function stripTableCsv(report: ReportModel): string {
  return csvText(stripTable(report));
}

interface ValueColumn {
  readonly response: string;
  readonly unit: string | null;
}

function valueColumns(report: ReportModel): readonly ValueColumn[] {
  const columns = new Map<string, ValueColumn>();
  for (const { response, unit } of report.strips.flatMap((strip) => strip.values)) {
    if (!columns.has(response)) columns.set(response, { response, unit });
  }
  return [...columns.values()];
}

function stripRow(
  strip: ReportStrip,
  values: readonly ValueColumn[],
  reasons: readonly string[],
): readonly Cell[] {
  const setAside = strip.pointsRead === null ? null : 0;
  return [
    strip.strip,
    strip.block,
    strip.treatment,
    strip.place,
    strip.areaM2,
    strip.harvestedAreaM2,
    ...values.map(({ response }) => strip.values.find((value) => value.response === response)?.value ?? null),
    strip.pointsRead,
    strip.pointsKept,
    ...reasons.map((reason) => strip.pointsSetAside[reason] ?? setAside),
    strip.subSamples,
    strip.cvWithinPercent,
    yesOrNo(strip.used),
    strip.whyNotUsed,
  ];
}
