import { describe, expect, test } from 'vitest';
import writeXlsxFile from 'write-excel-file/universal';
import {
  readHandSource,
  readPointsSource,
  recogniseSource,
  sniffSource,
} from '../../src/intake/read-source.ts';
import { findCrop } from '../../src/trial/crops.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';
import {
  dbfFile,
  type MadeRecord,
  shpFile,
  source,
  taskDataFiles,
  UTM_32N_PRJ,
  zipped,
} from './made-files.ts';

const points = (name: string, bytes: Uint8Array | string, beside = {}) =>
  readPointsSource(source(name, bytes, beside), null, findCrop('maize'));

describe('points of GeoJSON', () => {
  const feature = (at: readonly number[], properties: object) => ({
    type: 'Feature',
    properties,
    geometry: { type: 'Point', coordinates: at },
  });
  const collection = (features: readonly object[]) => JSON.stringify({ type: 'FeatureCollection', features });
  const HARVEST = collection([
    feature([11.5, 48.1, 520], { 'Yield (t/ha)': 9.125, 'Moisture (%)': 15.5, Longitude: 0 }),
    feature([11.6, 48.2], { 'Yield (t/ha)': 9.25, 'Moisture (%)': null, Longitude: 0 }),
  ]);

  test('positions come from the geometry, values from the properties', async () => {
    const outcome = await points('h.geojson', HARVEST);
    expect([...taken(outcome).longitude]).toEqual([11.5, 11.6]);
    expect([...taken(outcome).latitude]).toEqual([48.1, 48.2]);
    expect([...(taken(outcome).yieldKgPerHa ?? [])]).toEqual([9125, 9250]);
    expect(taken(outcome).moisturePercent?.[1]).toBeNaN();
    expect(taken(await sniffSource(source('x', HARVEST)))).toBe('points');
    const asked = { path: 'h', kind: 'points' as const, columns: {}, yieldColumns: [] };
    const reading = taken(await recogniseSource(source('h', HARVEST), asked));
    expect(reading.recognition.headings).toContain('Yield (t/ha)');
  });

  test('the Point of RFC 7946, section 1.5, is a place without a yield', async () => {
    const rfc =
      '{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[102.0,0.5]},"properties":{"prop0":"value0"}}]}';
    const outcome = await points('rfc.geojson', rfc);
    expect(problemOf(outcome, 'noYieldColumn').details.headings).toContain('prop0');
  });

  test('other shapes among the points are left out and said; none but others are refused', async () => {
    const line = {
      type: 'Feature',
      properties: {},
      geometry: {
        type: 'LineString',
        coordinates: [
          [1, 2],
          [3, 4],
        ],
      },
    };
    const mixed = await points('h', collection([...JSON.parse(HARVEST).features, line]));
    expect(problemOf(mixed, 'featuresNotPoints').details.count).toBe(1);
    expect(codesOf(await points('h', collection([line])))).toEqual(['noPointFeatures']);
  });
});

test('points of KML, with what stands beside them', async () => {
  const mark = (lon: number, y: number) =>
    `<Placemark><ExtendedData><Data name="Yield (t/ha)"><value>${y}</value></Data></ExtendedData><Point><coordinates>${lon},48.1</coordinates></Point></Placemark>`;
  const kml = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${mark(11.5, 9.125)}${mark(11.6, 9.25)}</Document></kml>`;
  expect(taken(await sniffSource(source('h.kml', kml)))).toBe('points');
  expect([...(taken(await points('h.kml', kml)).yieldKgPerHa ?? [])]).toEqual([9125, 9250]);
});

describe('points of a shapefile', () => {
  test('in metres of the zone that the .prj names', async () => {
    const records = [0, 1, 2].map((row) => ({
      point: [691_607.86 + row, 5_335_852.96] as const,
      attributes: { Yld_t_ha: 9 + row / 8, Moist_pct: 15.5, Speed_km_h: 5.4 },
    }));
    const beside = { 'h.dbf': dbfFile(records), 'h.prj': asBytes(UTM_32N_PRJ) };
    const outcome = await points('h.shp', shpFile(records), beside);
    const { latitude, yieldKgPerHa, moisturePercent, speedMPerS } = taken(outcome);
    expect(latitude[0]).toBeCloseTo(48.15, 2);
    expect([...(yieldKgPerHa ?? [])]).toEqual([9000, 9125, 9250]);
    expect(moisturePercent?.[2]).toBe(15.5);
    expect(speedMPerS?.[0]).toBeCloseTo(1.5, 12);
    expect(codesOf(outcome)).toContain('readInProjection');
    expect(taken(await sniffSource(source('h.shp', shpFile(records), beside)))).toBe('points');
  });
});

describe('ISO 11783-10 task data', () => {
  const LOGGED = [
    { ddi: '0054' },
    { ddi: '0057' },
    { ddi: '0063' },
    { ddi: '0043' },
    { ddi: '0075' },
    { ddi: '008D' },
    { ddi: '005A' },
  ];
  const RECORDS: readonly MadeRecord[] = [
    // 912,500 mg/m² = 9,125 kg/ha; 7,300,000 mg/s = 7.3 kg/s; 155,000 ppm = 15.5 %; 6,100 mm; 1,000 mm driven; cutting.
    {
      second: 0,
      longitude: 11.5,
      latitude: 48.1,
      values: { 0: 912_500, 1: 7_300_000, 2: 155_000, 3: 6100, 4: 1000, 5: 1, 6: 40 },
    },
    { second: 1, longitude: 11.5001, latitude: 48.1, values: { 0: 925_000, 4: 2500 } },
    { second: 2, longitude: 11.5002, latitude: 48.1, status: 0, values: { 1: 7_000_000, 4: 4100, 5: 0 } },
    { second: 3, longitude: 11.5003, latitude: -48.1, values: { 2: 2_147_483_647 } },
  ];
  const zip = (files: Readonly<Record<string, Uint8Array>>, level: 0 | 6 = 6) => zipped(files, level);
  const files = taskDataFiles(LOGGED, RECORDS);

  test.each([0, 6] as const)(
    'yield, flow, moisture, width, distance and work state in SI (compression %i)',
    async (level) => {
      const outcome = await points('t.zip', zip(files, level));
      const read = taken(outcome);
      expect([...(read.yieldKgPerHa ?? [])]).toEqual([9125, 9250, 9250, 9250]);
      expect([...(read.massFlowKgPerS ?? [])]).toEqual([7.3, 7.3, 7, 7]);
      expect([...(read.moisturePercent ?? [])]).toEqual([15.5, 15.5, 15.5, 15.5]);
      expect([...(read.widthM ?? [])]).toEqual([6.1, 6.1, 6.1, 6.1]);
      expect([...(read.distanceM ?? [])]).toEqual([Number.NaN, 1.5, 1.6, Number.NaN]);
      expect([...(read.headerDown ?? [])]).toEqual([1, 1, 0, 0]);
      expect([...read.longitude]).toEqual([11.5, 11.5001, Number.NaN, 11.5003]);
      expect(read.latitude[3]).toBe(-48.1);
      expect([...(read.timeS ?? [])]).toEqual([0, 1, 2, 3]);
      expect(problemOf(outcome, 'taskDataLogged').details.unused).toEqual(['90']);
      expect(problemOf(outcome, 'taskDataCarriedOn').details.count).toBeGreaterThan(0);
      expect(taken(await sniffSource(source('t.zip', zip(files))))).toBe('points');
    },
  );

  test('a volume per area is in bushels of the crop', async () => {
    // 1,050 ml/m² = 1.05 L/m²; a bushel is 35.23907016688 L, an acre 4046.8564224 m²; 56 lb of maize a bushel.
    const made = taskDataFiles(
      [{ ddi: '0053' }],
      [RECORDS[0]!, RECORDS[1]!].map((r, i) => ({ ...r, values: { 0: 1050 + i } })),
    );
    const kgPerM2 = (1.05 / 35.23907016688) * 56 * 0.45359237;
    expect(taken(await points('t.zip', zip(made))).yieldKgPerHa?.[0]).toBeCloseTo(kgPerM2 * 10_000, 6);
  });

  test('two elements that log the same are a question', async () => {
    const made = taskDataFiles(
      [
        { ddi: '0054', device: 'DET-1' },
        { ddi: '0054', device: 'DET-2' },
      ],
      RECORDS.map((r) => ({ ...r, values: { 0: 1, 1: 2 } })),
    );
    expect(problemOf(await points('t.zip', zip(made)), 'askWhichColumn').details.role).toBe('yield');
  });

  const { 'TASKDATA/TLG00001.BIN': bin, ...withoutBin } = files;
  test.each([
    ['taskLogMissing', withoutBin],
    ['taskLogCutOff', { ...files, 'TASKDATA/TLG00001.BIN': bin.subarray(0, bin.length - 3) }],
    [
      'taskDataWithoutLogs',
      { ...files, 'TASKDATA/TASKDATA.XML': asBytes('<ISO11783_TaskData VersionMajor="3"/>') },
    ],
    ['taskDataDamaged', { ...files, 'TASKDATA/TASKDATA.XML': asBytes('<other/>') }],
    ['noYieldColumn', taskDataFiles([{ ddi: '0063' }], [{ ...RECORDS[0]!, values: { 0: 155_000 } }])],
  ])('names the problem %s', async (code, made) => {
    expect(codesOf(await points('t.zip', zip(made)))).toContain(code);
  });
});

describe('hand harvest', () => {
  const cell = (value: string | number | Date | null) =>
    value === null ? null : value instanceof Date ? { value, format: 'yyyy-mm-dd' } : { value };
  const workbook = async (...sheets: (string | number | Date | null)[][][]) => {
    const data = sheets.map((rows, index) => ({
      data: rows.map((row) => row.map(cell)),
      sheet: `Sheet ${index + 1}`,
    }));
    const blob = await writeXlsxFile(data as never).toBlob();
    return new Uint8Array(await blob.arrayBuffer());
  };
  const hand = async (bytes: Uint8Array | string) => readHandSource(source('h.xlsx', bytes), null, null);
  const ROWS: (string | number | Date | null)[][] = [
    ['Strip', 'Weight (kg)', 'Length (m)', 'Width (m)', 'Moisture (%)', 'Plants', 'Cut on'],
    ['S1', 1128.4, 200, 6, 15.5, 81, new Date(Date.UTC(2024, 8, 1))],
    ['S2', 1090, 200, 6, null, 78, new Date(Date.UTC(2024, 8, 1))],
  ];

  test('a workbook written by another library, counts as responses', async () => {
    const bytes = await workbook(ROWS);
    const { samples, otherResponses } = taken(await hand(bytes));
    expect(
      samples.map(({ strip, weightKg, areaM2, moisturePercent, others }) => [
        strip,
        weightKg,
        areaM2,
        moisturePercent,
        others,
      ]),
    ).toEqual([
      ['S1', 1128.4, 1200, 15.5, { Plants: 81 }],
      ['S2', 1090, 1200, null, { Plants: 78 }],
    ]);
    expect(otherResponses.map(({ name }) => name)).toEqual(['Plants']);
    expect(taken(await sniffSource(source('h.xlsx', bytes)))).toBe('hand');
  });

  test('titles, units in a row and further sheets are found and said; rows count as in the sheet', async () => {
    const titled = [
      ['Weights of the north field'],
      [],
      ['Strip', 'Weight', 'Length', 'Width'],
      [null, 'kg', 'm', 'm'],
      ['S1', 512, 200, 6],
      ['S2', 500, 200, 6],
    ];
    const outcome = await hand(await workbook(titled, [['more', 'to come']]));
    expect(taken(outcome).samples.map(({ row, weightKg }) => [row, weightKg])).toEqual([
      [5, 512],
      [6, 500],
    ]);
    expect(problemOf(outcome, 'firstSheetTaken').details).toEqual({ sheet: 'Sheet 1', others: ['Sheet 2'] });
    expect(codesOf(outcome)).toEqual(expect.arrayContaining(['linesAboveHeadings', 'unitsBelowHeadings']));
  });

  test('a workbook of points is read as points', async () => {
    const bytes = await workbook([
      ['Lon', 'Lat', 'Yield (t/ha)', 'Time'],
      [11.5, 48.1, 9.125, '10:00:00'],
      [11.6, 48.1, 9.25, '10:00:01'],
    ]);
    expect(taken(await sniffSource(source('p.xlsx', bytes)))).toBe('points');
    expect([...(taken(await points('p.xlsx', bytes)).yieldKgPerHa ?? [])]).toEqual([9125, 9250]);
  });

  test('dates with a clock in cells come out to the second, though a sheet holds days as fractions', async () => {
    const seconds = Array.from({ length: 200 }, (_, s) => s);
    const data = [
      ['Lon', 'Lat', 'Yield (t/ha)', 'Time'].map((value) => ({ value })),
      ...seconds.map((s) => [
        { value: 11.5 + s * 1e-5 },
        { value: 48.1 },
        { value: 9.125 },
        { value: new Date(Date.UTC(2024, 8, 1, 9, 58, s)), format: 'yyyy-mm-dd hh:mm:ss' },
      ]),
    ];
    const blob = await writeXlsxFile([{ data, sheet: 'a' }] as never).toBlob();
    const outcome = await points('p.xlsx', new Uint8Array(await blob.arrayBuffer()));
    expect([...(taken(outcome).timeS ?? [])]).toEqual(seconds);
    expect(codesOf(outcome)).not.toContain('clockCoarse');
  });

  test('text pasted from a spreadsheet, also with decimal commas', async () => {
    const pasted =
      'Strip\tWeight (kg)\tLength (m)\tWidth (m)\tPlants\r\nS1\t1128,4\t200\t6\t81\r\nS2\t1090\t200\t6\t78\r\n';
    const { samples } = taken(await hand(pasted));
    expect(samples.map(({ weightKg, others }) => [weightKg, others.Plants])).toEqual([
      [1128.4, 81],
      [1090, 78],
    ]);
  });

  test('counts alone are a harvest of their own', async () => {
    const { samples, otherResponses } = taken(
      await hand('Strip\tPlants per row\tLodging %\nS1\t81\t5\nS2\t78\t0\n'),
    );
    expect(otherResponses.map(({ name }) => name)).toEqual(['Plants per row', 'Lodging %']);
    expect(samples[1]?.others).toEqual({ 'Plants per row': 78, 'Lodging %': 0 });
  });

  test.each([
    ['emptyFile', () => workbook([[]])],
    ['notATable', () => workbook([['Nothing'], ['here']])],
    ['notATable', async () => asBytes('<kml><Document/></kml>')],
    [
      'workbookDamaged',
      async () => zipped({ 'xl/workbook.xml': asBytes('<workbook'), '[Content_Types].xml': asBytes('<') }),
    ],
  ])('names the problem %s', async (code, made) => {
    expect(codesOf(await hand(await made()))).toEqual([code]);
  });
});
