import Papa from 'papaparse/papaparse.min.js';
import { describe, expect, test } from 'vitest';
import { anovaTable } from '../../src/export/anova-csv.ts';
import { answerFiles } from '../../src/export/answer-files.ts';
import { answersTable } from '../../src/export/answers-csv.ts';
import { comparisonsTable } from '../../src/export/comparisons-csv.ts';
import { csvText } from '../../src/export/csv-text.ts';
import { meansTable } from '../../src/export/means-csv.ts';
import { reportJson } from '../../src/export/report-json.ts';
import type { ReportTable } from '../../src/export/report-table.ts';
import { stripTable } from '../../src/export/strip-table-csv.ts';
import { workbookXlsx } from '../../src/export/workbook-xlsx.ts';
import { sampleReport } from './sample-report.ts';

const report = sampleReport({
  treatments: ['=HYPERLINK("http://x")', '+1 L', 'with, comma', 'with "quotes"\nand a line', '@home'],
  allPairs: true,
});
const tables = [stripTable, meansTable, anovaTable, comparisonsTable, answersTable].map((make) =>
  make(report),
);

/** Papa's own reader is the independent side of the round trip. */
function readBack(csv: string): string[][] {
  const reader = Papa as unknown as {
    parse(text: string, config: object): { data: string[][]; errors: unknown[] };
  };
  const { data, errors } = reader.parse(csv, { skipEmptyLines: true });
  expect(errors).toEqual([]);
  return data;
}

describe.each(tables.map((table) => ({ name: table.name, table })))('$name.csv', ({ table }) => {
  test('round trip: every cell comes back, numbers to the last bit, unknown as empty', () => {
    const [headings, ...rows] = readBack(csvText(table));
    expect(headings).toEqual(table.headings);
    expect(rows.length).toBe(table.rows.length);
    rows.forEach((row, r) => {
      row.forEach((text, c) => {
        const cell = table.rows[r]?.[c] ?? null;
        if (cell === null) expect(text).toBe('');
        else if (typeof cell === 'number') expect(Number(text)).toBe(cell);
        else expect(text.replace(/^'(?=[=+\-@\t\r])/, '')).toBe(cell);
      });
    });
  });

  test('no text cell begins a formula (OWASP, CSV Injection), and no negative number is turned into text', () => {
    const [, ...rows] = readBack(csvText(table));
    rows.forEach((row, r) => {
      row.forEach((text, c) => {
        if (typeof table.rows[r]?.[c] === 'number') expect(text).not.toMatch(/^'/);
        else expect(text).not.toMatch(/^[=+\-@\t\r]/);
      });
    });
  });

  test('every row has a cell for each heading', () => {
    for (const row of table.rows) expect(row.length).toBe(table.headings.length);
    expect(new Set(table.headings).size).toBe(table.headings.length);
  });
});

test('the strip table carries every strip of the model, its units and the reasons for set-aside points', () => {
  const table = stripTable(report);
  const column = (heading: string) => table.rows.map((row) => row[table.headings.indexOf(heading)]);
  expect(column('strip')).toEqual(report.strips.map(({ strip }) => strip));
  expect(column('yield (t/ha)')).toEqual(report.strips.map(({ values }) => values[0]?.value));
  expect(column('set aside: endMargin')).toEqual(report.strips.map((s) => s.pointsSetAside.endMargin));
  expect(column('why not used')).toEqual(report.strips.map(({ whyNotUsed }) => whyNotUsed));
});

test('a table as RFC 4180 has it: CRLF after every record, quotes doubled', () => {
  const table: ReportTable = {
    name: 't',
    headings: ['a', 'b'],
    rows: [
      ['x "y"', -1.5],
      ['-3', null],
    ],
  };
  expect(csvText(table)).toBe('a,b\r\n"x ""y""",-1.5\r\n"\'-3",\r\n');
});

test('the JSON is the model itself, ends in a line end, and is the same each time', () => {
  const text = reportJson(report);
  expect(JSON.parse(text)).toEqual(report);
  expect(text.endsWith('}\n')).toBe(true);
  expect(reportJson(structuredClone(report))).toBe(text);
});

describe('the workbook', () => {
  test('is a zip (PK, APPNOTE 4.3.7) with one sheet a table, and holds no formula', async () => {
    const bytes = await workbookXlsx(report);
    expect([...bytes.slice(0, 4)]).toEqual([0x50, 0x4b, 3, 4]);
    const { unzipSync, strFromU8 } = await import('fflate');
    const parts = unzipSync(bytes);
    const sheets = Object.keys(parts).filter((name) => /^xl\/worksheets\/sheet\d+\.xml$/.test(name));
    expect(sheets.length).toBe(6);
    for (const name of sheets) {
      const xml = strFromU8(parts[name] ?? new Uint8Array());
      expect(xml).not.toMatch(/<f[ >]/);
      expect(xml).not.toMatch(/NaN|undefined/);
    }
    const means = strFromU8(parts['xl/worksheets/sheet3.xml'] ?? new Uint8Array());
    for (const { mean } of report.responses[0]?.means ?? []) expect(means).toContain(`<v>${mean}</v>`);
  });
});

test('the list of files: names differ, each has content, and text holds no hole', async () => {
  const files = await answerFiles(sampleReport(), { field: null, trial: null });
  expect(new Set(files.map(({ name }) => name)).size).toBe(files.length);
  expect(files.map(({ name }) => name)).toEqual(
    expect.arrayContaining(['handout.html', 'report.json', 'strips.csv', 'tables.xlsx', 'means.csv']),
  );
  for (const { name, content } of files) {
    expect(content.length, name).toBeGreaterThan(50);
    if (typeof content === 'string') expect(content, name).not.toMatch(/NaN|undefined|\[object/);
  }
});
