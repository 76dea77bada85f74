import type { ReportModel } from '../findings/report-model.ts';
import { anovaTable } from './anova-csv.ts';
import { answersTable } from './answers-csv.ts';
import { comparisonsTable } from './comparisons-csv.ts';
import { furtherTable } from './further-csv.ts';
import { meansTable } from './means-csv.ts';
import type { ReportTable } from './report-table.ts';
import { stripTable } from './strip-table-csv.ts';

/** What is used of a Blob; browsers and Node both have it, the pure rooms' types have neither. */
interface BytesHolder {
  arrayBuffer(): Promise<ArrayBuffer>;
}

const NARROWEST = 8;
const WIDEST = 48;

/**
 * The tables as one workbook (Office Open XML), a sheet each, the same code in browser and Node. Text cells are
 * written as text, so none is ever run as a formula.
 */
export async function workbookXlsx(report: ReportModel): Promise<Uint8Array<ArrayBuffer>> {
  const { default: writeWorkbook } = await import('write-excel-file/universal');
  const tables = [
    answersTable(report),
    stripTable(report),
    meansTable(report),
    anovaTable(report),
    comparisonsTable(report),
    furtherTable(report),
  ];
  const blob: BytesHolder = await writeWorkbook(tables.map(sheet)).toBlob();
  return new Uint8Array(await blob.arrayBuffer());
}

function sheet(table: ReportTable) {
  const heading = table.headings.map((value) => ({ value, type: String, fontWeight: 'bold' as const }));
  const rows = table.rows.map((row) =>
    row.map((value) =>
      typeof value === 'number' ? { value, type: Number } : value === null ? null : { value, type: String },
    ),
  );
  return {
    sheet: table.name,
    data: [heading, ...rows],
    columns: table.headings.map((text, index) => ({ width: columnWidth(text, table, index) })),
    stickyRowsCount: 1,
  };
}

/** In characters, by the longest cell within reason. */
function columnWidth(heading: string, table: ReportTable, index: number): number {
  const lengths = table.rows.map((row) => String(row[index] ?? '').length);
  return Math.min(WIDEST, Math.max(NARROWEST, heading.length, ...lengths.slice(0, 500)) + 2);
}
