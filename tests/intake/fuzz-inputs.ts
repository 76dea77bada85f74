import assert from 'node:assert/strict';
import fc from 'fast-check';
import { wholeOf } from '../../src/intake/file-bytes.ts';
import { INTAKE_PROBLEM_CODES } from '../../src/intake/problem-codes.ts';
import { readApplicationSource, recogniseApplication } from '../../src/intake/read-application.ts';
import { readAreas } from '../../src/intake/read-areas.ts';
import { readHand } from '../../src/intake/read-hand.ts';
import { readPlotTable } from '../../src/intake/read-plot-table.ts';
import {
  readHandSource,
  readLayoutSource,
  readPointsSource,
  recogniseSource,
  sniffSource,
} from '../../src/intake/read-source.ts';
import type { SourceFile } from '../../src/intake/source-file.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { asBytes, utf16 } from './as-bytes.ts';
import {
  dbfFile,
  type ShapeRecord,
  shpFile,
  source,
  taskDataFiles,
  UTM_32N_PRJ,
  WGS84_PRJ,
  zipped,
} from './made-files.ts';

/** One sound file, and the reader that a user would put it to. */
export interface Seed {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly beside?: Readonly<Record<string, Uint8Array>>;
  /** What the archive was packed from: one of these is changed and all are packed again, else hardly any opens. */
  readonly packed?: Readonly<Record<string, Uint8Array>>;
}

const STRIPS: readonly ShapeRecord[] = [0, 1].map((index) => ({
  rings: [
    [
      [11.5 + index / 1e4, 48.1],
      [11.5 + index / 1e4, 48.102],
      [11.50008 + index / 1e4, 48.102],
      [11.50008 + index / 1e4, 48.1],
      [11.5 + index / 1e4, 48.1],
    ],
  ],
  attributes: { strip: `S${index}`, treatment: index === 0 ? 'Check' : 'A', block: 1 },
}));
const POINTS: readonly ShapeRecord[] = [0, 1, 2].map((row) => ({
  point: [691_607 + row, 5_335_852],
  attributes: { Yld_t_ha: 9 + row, Moist_pct: 15.5 },
}));
const TASK_DATA = taskDataFiles(
  [{ ddi: '0054' }, { ddi: '0063' }, { ddi: '008D' }],
  [0, 1, 2].map((second) => ({
    second,
    longitude: 11.5,
    latitude: 48.1,
    values: { 0: 900_000, 1: 155_000, 2: 1 },
  })),
);
/** A boom of two sections and what was put out with it: rate, width, work state, condensed work states, two products. */
const SPRAYED_TASK = taskDataFiles(
  ['0002', '0043', '008D', '00A1'].map((ddi) => ({ ddi, device: 'DET-2' })),
  [0, 1, 2].map((second) => ({
    second,
    longitude: 11.5,
    latitude: 48.1 + second * 1e-4,
    values: { 0: 1_500_000, 1: 12_000, 2: 1, 3: second === 1 ? 1 : 5 },
  })),
  {
    described:
      '<PDT A="PDT1" B="Alpha"/><PDT A="PDT2" B="Beta"/><DVC A="DVC-1" C="1" D="A0" F="31" G="FF"><DET A="DET-1" B="1" C="1" E="0" F="0"/><DET A="DET-2" B="2" C="2" E="1" F="1"/><DET A="DET-3" B="3" C="4" E="2" F="2"><DOR A="30"/><DOR A="31"/></DET><DET A="DET-4" B="4" C="4" E="3" F="2"><DOR A="30"/><DOR A="32"/></DET><DPT A="30" B="0043" C="6000"/><DPT A="31" B="0087" C="-3000"/><DPT A="32" B="0087" C="3000"/></DVC>',
    inTask:
      '<PAN A="PDT1" D="1" E="DET-2"><ASP A="2024-09-01T10:00:00" D="4"/></PAN><PAN A="PDT2" E="DET-2"><ASP A="2024-09-01T10:00:01" B="2024-09-01T11:00:00" D="4"/></PAN>',
  },
);
const KML =
  '<?xml version="1.0"?><kml><Document><Placemark id="a"><name>S1</name><ExtendedData><Data name="trt"><value>A</value></Data></ExtendedData><Polygon><outerBoundaryIs><LinearRing><coordinates>11.5,48.1 11.5,48.2 11.6,48.2 11.5,48.1</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></Document></kml>';
const SHAPEFILE = { 'a.dbf': dbfFile(STRIPS), 'a.prj': asBytes(WGS84_PRJ), 'a.cpg': asBytes('UTF-8') };
const LOG =
  '# made up\nLon,Lat,Yield,Moisture,Time,Header\ndeg,deg,t/ha,%,,\n11.5,48.1,9.1,15.5,2024-09-01 10:00:00,1\n11.6,48.2,9.2 t/ha,15.6,2024-09-01 10:00:01,0\n';

export const SEEDS: readonly Seed[] = [
  { name: 'log.csv', bytes: asBytes(LOG) },
  { name: 'log16.csv', bytes: utf16(LOG, 'le').subarray(2) },
  { name: 'spaces.txt', bytes: asBytes('Lon  Lat  Yield_t/ha\n11.5  48.1  9.1\n11.6  48.2  9.2\n') },
  {
    name: 'minutes.csv',
    bytes: asBytes("Lon;Lat;Yield (t/ha)\n11°30'00\"E;48°06'00\"N;9,1\n11°30.5'E;48 06 01 N;9,2\n"),
  },
  {
    name: 'utm.csv',
    bytes: asBytes(
      'Easting (UTM 32N)|Northing|Yield (bu/ac)\n691607.8|5335852.9|100\n691608.8|5335852.9|101\n',
    ),
  },
  {
    name: 'hand.csv',
    bytes: asBytes('Strip;Weight (kg);Länge (m);Breite (m)\nA;512,5;200;6\nB;1.500,0;200;6\n'),
  },
  { name: 'plots.csv', bytes: asBytes('trt,rep,yield\nA,1,"1,234.5"\nB,1,NA\n') },
  {
    name: 'corners.csv',
    bytes: asBytes('Strip,Corner,Lon,Lat,Treatment\nA,1,1.5,2.5,x\nA,2,3.5,4.5,x\nA,3,5.5,1.5,x\n'),
  },
  {
    name: 'layout.geojson',
    bytes: asBytes(
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"trt":"A","strip":1},"geometry":{"type":"Polygon","coordinates":[[[1,2],[3,4],[5,6],[1,2]]]}}]}',
    ),
  },
  {
    name: 'points.geojson',
    bytes: asBytes(
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"yield_t_ha":9.5,"m":15},"geometry":{"type":"Point","coordinates":[11.5,48.1]}}]}',
    ),
  },
  {
    name: 'sprayed.csv',
    bytes: asBytes(
      'Lon,Lat,Swath (ft),Applied rate (gal/ac),Product,Boom,Time (s)\n11.5,48.1,40,10.5,A,on,0\n11.5,48.1001,40,0,A,off,1\n',
    ),
  },
  {
    name: 'sprayed.geojson',
    bytes: asBytes(
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"product":"A","rate_kg_ha":9.5},"geometry":{"type":"Polygon","coordinates":[[[1,2],[3,4],[5,6],[1,2]]]}}]}',
    ),
  },
  { name: 'a.kml', bytes: asBytes(KML) },
  { name: 'a.kmz', bytes: zipped({ 'doc.kml': asBytes(KML) }) },
  { name: 'stored.kmz', bytes: zipped({ 'doc.kml': asBytes(KML) }, 0) },
  { name: 'a.shp', bytes: shpFile(STRIPS), beside: SHAPEFILE },
  { name: 'dbf', bytes: SHAPEFILE['a.dbf'], beside: { 'a.shp': shpFile(STRIPS) } },
  { name: 'a.zip', bytes: zipped({ 'a.shp': shpFile(STRIPS), ...SHAPEFILE }, 0) },
  {
    name: 'p.shp',
    bytes: shpFile(POINTS),
    beside: { 'p.dbf': dbfFile(POINTS), 'p.prj': asBytes(UTM_32N_PRJ) },
  },
  {
    name: 'prj',
    bytes: asBytes(UTM_32N_PRJ),
    beside: { 'p.shp': shpFile(POINTS), 'p.dbf': dbfFile(POINTS) },
  },
  { name: 'tasks.zip', bytes: zipped(TASK_DATA) },
  { name: 'stored-tasks.zip', bytes: zipped(TASK_DATA, 0) },
  { name: 'repacked-tasks.zip', bytes: zipped(TASK_DATA, 0), packed: TASK_DATA },
  { name: 'sprayed-tasks.zip', bytes: zipped(SPRAYED_TASK, 0) },
  { name: 'repacked-sprayed-tasks.zip', bytes: zipped(SPRAYED_TASK, 0), packed: SPRAYED_TASK },
  { name: 'book.xlsx', bytes: zipped(minimalWorkbook(), 0) },
  { name: 'packed.xlsx', bytes: zipped(minimalWorkbook()) },
];

/** The smallest workbook of ECMA-376: content types, relations, one sheet with text and numbers within its cells. */
function minimalWorkbook(): Record<string, Uint8Array> {
  const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const cell = (at: string, value: string | number) =>
    typeof value === 'number'
      ? `<c r="${at}"><v>${value}</v></c>`
      : `<c r="${at}" t="inlineStr"><is><t>${value}</t></is></c>`;
  const rows = [
    ['Strip', 'Weight (kg)', 'Length (m)', 'Width (m)'],
    ['S1', 512.5, 200, 6],
    ['S2', 500, 200, 6],
  ].map(
    (row, r) =>
      `<row r="${r + 1}">${row.map((value, c) => cell(`${'ABCD'[c]}${r + 1}`, value)).join('')}</row>`,
  );
  const parts = {
    '[Content_Types].xml':
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
    'xl/workbook.xml': `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="${office}"><sheets><sheet name="One" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    'xl/worksheets/sheet1.xml': `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${rows.join('')}</sheetData></worksheet>`,
  };
  return Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, asBytes(text)]));
}

export interface Change {
  readonly kind: 'set' | 'cut' | 'insert' | 'repeat' | 'truncate';
  readonly at: number;
  readonly byte: number;
}

export const changes: fc.Arbitrary<readonly Change[]> = fc.array(
  fc.record({
    kind: fc.constantFrom(
      'set' as const,
      'set' as const,
      'cut' as const,
      'insert' as const,
      'repeat' as const,
      'truncate' as const,
    ),
    at: fc.nat(),
    byte: fc.oneof(
      fc.integer({ min: 0, max: 255 }),
      fc.constantFrom(...asBytes(',;|"\n\r\t.-+ {}[]<>/&%0129eENSÿ')),
    ),
  }),
  { minLength: 1, maxLength: 8 },
);

export function mutated(seed: Uint8Array, list: readonly Change[]): Uint8Array {
  let bytes = [...seed];
  for (const { kind, at, byte } of list) {
    const place = at % (bytes.length + 1);
    if (kind === 'set' && bytes.length > 0) bytes[Math.min(place, bytes.length - 1)] = byte;
    else if (kind === 'cut') bytes.splice(place, 1 + (byte % 40));
    else if (kind === 'insert') bytes.splice(place, 0, byte);
    else if (kind === 'repeat') bytes.splice(place, 0, ...bytes.slice(Math.max(0, place - byte), place));
    else if (kind === 'truncate' && byte % 4 === 0) bytes = bytes.slice(0, place);
  }
  return new Uint8Array(bytes);
}

const NONE = { strip: null, treatment: null, block: null };
const LOG_ASKED = { path: 'log', columns: {}, swathM: null, products: [] };
const TABLE = { treatment: null, block: null, responses: [], subsamples: true };

/** Every reader, as one function of a source. */
export const READERS: Readonly<Record<string, (from: SourceFile) => Promise<Outcome<unknown>>>> = {
  sniff: sniffSource,
  layout: (from) => readLayoutSource(from, NONE),
  points: (from) => readPointsSource(from, null, null),
  pointsInZone: (from) =>
    readPointsSource(
      from,
      {
        path: from.name,
        kind: 'points',
        columns: { longitude: { heading: 'Lon', unit: 'UTM 32N' } },
        yieldColumns: [],
      },
      null,
    ),
  hand: (from) => readHandSource(from, null, null),
  columns: (from) =>
    recogniseSource(from, { path: from.name, kind: 'points', columns: {}, yieldColumns: [] }),
  application: (from) => readApplicationSource(from, LOG_ASKED),
  applicationSwath: (from) => readApplicationSource(from, { ...LOG_ASKED, swathM: 12 }),
  applicationColumns: (from) => recogniseApplication(from, LOG_ASKED),
  areas: readAreas,
  handText: async ({ bytes, name }) => readHand(wholeOf(bytes), name, null, null),
  plotTable: async ({ bytes, name }) => readPlotTable(wholeOf(bytes), name, TABLE),
};

const DOCUMENTED = new Map<string, readonly string[]>(
  INTAKE_PROBLEM_CODES.map(({ code, details }) => [code, Object.keys(details).sort()]),
);

/** A source whose changed part is the file itself or one that lies beside it, as the seed has it. */
export function changedSource(
  { name, bytes, beside = {}, packed }: Seed,
  list: readonly Change[],
): SourceFile {
  if (packed !== undefined) return source(name, repacked(packed, list));
  const changed = mutated(bytes, list);
  const shape = Object.entries(beside).find(([part]) => part.endsWith('.shp'));
  if (shape === undefined) return source(name, changed, beside);
  const parts = Object.entries(beside).filter(([part]) => !part.endsWith('.shp'));
  return source(shape[0], shape[1], { ...Object.fromEntries(parts), [`a.${name}`]: changed });
}

function repacked(files: Readonly<Record<string, Uint8Array>>, list: readonly Change[]): Uint8Array {
  const names = Object.keys(files);
  const chosen = names[(list[0]?.byte ?? 0) % names.length]!;
  return zipped({ ...files, [chosen]: mutated(files[chosen]!, list) }, 0);
}

/**
 * Every refusal names an error; every problem is a documented one with exactly its documented details; no detail is
 * NaN; and what was read holds NaN only where points and logs count unreadable rows, never in positions of strips.
 */
export function holdsItsWord(outcome: Outcome<unknown>): void {
  if (!outcome.ok) assert.ok(outcome.problems.some(({ severity }) => severity === 'error'));
  for (const { code, details } of outcome.problems) {
    assert.deepEqual([code, Object.keys(details).sort()], [code, DOCUMENTED.get(code)]);
    for (const value of Object.values(details)) assert.ok(!Number.isNaN(value), `${code}: NaN`);
  }
  if (outcome.ok) assert.equal(silentNaN(outcome.value), null);
}

/** Where a NaN or an infinity stands that nothing counts; null: nowhere. */
function silentNaN(value: unknown): string | null {
  // One file may hold several logs.
  if (Array.isArray(value)) return value.map(silentNaN).find((found) => found !== null) ?? null;
  const points = value as { unreadableRows?: number; count?: number; headerDown?: unknown };
  if (typeof points !== 'object' || points === null) return null;
  if (points.unreadableRows === undefined) return notFinite(value, '');
  const { ground = {} } = value as { ground?: { parts?: unknown } };
  const inParts = notFinite(ground.parts ?? [], '.parts');
  if (inParts !== null) return inParts;
  const columns = [...Object.entries(points), ...Object.entries(ground)].filter(
    ([, column]) => column instanceof Float64Array,
  );
  for (const [name, column] of columns as [string, Float64Array][]) {
    if (column.length !== points.count) return `${name}: ${column.length} of ${points.count}`;
    if (column.some((x) => x === Number.POSITIVE_INFINITY || x === Number.NEGATIVE_INFINITY)) return name;
  }
  const rows = Array.from({ length: points.count ?? 0 }, (_, i) =>
    (columns as [string, Float64Array][]).some(([, column]) => Number.isNaN(column[i])),
  );
  return rows.filter(Boolean).length === points.unreadableRows ? null : 'unreadableRows';
}

function notFinite(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : path;
  if (typeof value !== 'object' || value === null) return null;
  if (value instanceof Map) return null;
  for (const [key, inner] of Object.entries(value)) {
    const found = notFinite(inner, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
