/// <reference path="./papaparse-minified.d.ts" />
import Papa from 'papaparse/papaparse.min.js';
import type { ReportTable } from './report-table.ts';

/**
 * A table as CSV (RFC 4180: commas, CRLF, quotes where needed), UTF-8 without a byte order mark, numbers with a
 * point and every digit.
 *
 * Spreadsheets run a cell that begins with = + - @ (or a tab or carriage return) as a formula, and names in a trial
 * come from anyone's file. Such text cells get a leading apostrophe; numbers never do, so negative ones stay numbers.
 * Source: OWASP, CSV Injection.
 */
export function csvText(table: ReportTable): string {
  const text = Papa.unparse(
    { fields: table.headings, data: table.rows },
    { newline: '\r\n', escapeFormulae: true },
  );
  return `${text}\r\n`;
}
