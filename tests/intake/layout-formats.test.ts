import { describe, expect, test } from 'vitest';
import { readLayoutSource, sniffSource } from '../../src/intake/read-source.ts';
import { sourceNamed, sourcesOf } from '../../src/intake/source-file.ts';
import { fromUtm } from '../../src/intake/utm-zone.ts';
import type { StripPolygon } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';
import { dbfFile, type ShapeRecord, shpFile, source, UTM_32N_PRJ, WGS84_PRJ, zipped } from './made-files.ts';

const NONE = { strip: null, treatment: null, block: null };
const read = (name: string, bytes: Uint8Array | string, beside = {}) =>
  readLayoutSource(source(name, bytes, beside), NONE);

/** Two strips of 6 m by 200 m, clockwise as the shapefile's outer rings are. */
function strip(east: number, north: number): readonly (readonly [number, number])[] {
  return [
    [east, north],
    [east, north + 200],
    [east + 6, north + 200],
    [east + 6, north],
    [east, north],
  ];
}
const METRES: readonly ShapeRecord[] = ['Check', 'Güte'].map((treatment, index) => ({
  rings: [strip(691_600 + 6 * index, 5_335_800)],
  attributes: { strip: `S${index + 1}`, treatment, block: 'I' },
}));
const turn = fromUtm({ zone: 32, isSouth: false, name: '' });
const DEGREES: readonly ShapeRecord[] = METRES.map(({ rings = [], attributes }) => ({
  rings: rings.map((ring) => ring.map(([x, y]) => turn(x, y))),
  attributes,
}));

function corners(polygon: StripPolygon | null | undefined): number[] {
  return (polygon?.coordinates ?? []).flat(2).flat() as number[];
}

function expectStrips(layout: Awaited<ReturnType<typeof read>>): void {
  const { strips, blocks } = taken(layout).layout;
  expect(strips.map(({ id, treatment, block }) => [id, treatment, block])).toEqual([
    ['S1', 'Check', 'I'],
    ['S2', 'Güte', 'I'],
  ]);
  expect(blocks).toHaveLength(1);
  for (const [index, { polygon }] of strips.entries()) {
    const expected = (DEGREES[index]?.rings ?? []).flat(2);
    corners(polygon).forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i] ?? Number.NaN, 9);
    });
    expect(corners(polygon)).toHaveLength(10);
  }
}

describe('KML', () => {
  /** Polygon of the KML standard (OGC 07-147r2, example of kml:Polygon), from memory; the data are ours. */
  const HOLLOW = `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><name>hollow box</name>
<ExtendedData><Data name="treatment"><value>A &amp; B</value></Data></ExtendedData>
<Polygon><extrude>1</extrude><altitudeMode>relativeToGround</altitudeMode>
<outerBoundaryIs><LinearRing><coordinates>
 -122.366278,37.818844,30 -122.365248,37.819267,30 -122.365640,37.819861,30 -122.366669,37.819429,30 -122.366278,37.818844,30
</coordinates></LinearRing></outerBoundaryIs>
<innerBoundaryIs><LinearRing><coordinates>
 -122.366212,37.818977,30 -122.365424,37.819294,30 -122.365704,37.819731,30 -122.366488,37.819402,30 -122.366212,37.818977,30
</coordinates></LinearRing></innerBoundaryIs></Polygon></Placemark></Document></kml>`;

  test('the folder that a placemark lies in is a property of its own', async () => {
    const ring = (x: number) => `${x},48 ${x + 0.001},48 ${x + 0.001},48.01 ${x},48`;
    const mark = (name: string, x: number) =>
      `<Placemark><name>${name}</name><Polygon><outerBoundaryIs><LinearRing><coordinates>${ring(x)}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`;
    const text = `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>Field</name><Folder><name>Product</name>${mark('S1', 9)}</Folder><Folder><name>Check</name>${mark('S2', 9.1)}</Folder></Document></kml>`;
    const asked = await read('a.kml', text);
    expect(problemOf(asked, 'noTreatmentProperty').details.properties).toEqual(['name', 'folder']);
    const said = await readLayoutSource(source('a.kml', text), { ...NONE, treatment: 'folder' });
    expect(taken(said).layout.strips.map(({ id, treatment }) => [id, treatment])).toEqual([
      ['S1', 'Product'],
      ['S2', 'Check'],
    ]);
  });

  test('a polygon with a hole, its name and data', async () => {
    const { layout } = taken(await read('a.kml', HOLLOW));
    expect(layout.strips[0]).toMatchObject({ id: 'hollow box', treatment: 'A & B' });
    expect(layout.strips[0]?.polygon).toMatchObject({ type: 'Polygon' });
    expect(layout.strips[0]?.polygon?.coordinates).toHaveLength(2);
    expect(corners(layout.strips[0]?.polygon).slice(0, 3)).toEqual([-122.366278, 37.818844, 30]);
  });

  test('a KMZ is the KML in a zip', async () => {
    const kmz = zipped({ 'doc.kml': asBytes(HOLLOW), 'files/photo.png': new Uint8Array(9) });
    expect(taken(await read('a.kmz', kmz)).layout).toEqual({
      ...taken(await read('a.kml', HOLLOW)).layout,
      file: { path: 'a.kmz', properties: NONE },
    });
    expect(taken(await sniffSource(source('a.kmz', kmz)))).toBe('layout');
    expect(taken(await sniffSource(source('a', HOLLOW)))).toBe('layout');
  });

  test('schema data and several polygons in one placemark', async () => {
    const ring = (x: number) =>
      `<Polygon><outerBoundaryIs><LinearRing><coordinates>${x},1 ${x},2 ${x + 1},2 ${x},1</coordinates></LinearRing></outerBoundaryIs></Polygon>`;
    const kml = `<kml><Document><Placemark><ExtendedData><SchemaData schemaUrl="#s"><SimpleData name="Treatment">A</SimpleData></SchemaData></ExtendedData><MultiGeometry>${ring(1)}${ring(3)}<Point><coordinates>1,1</coordinates></Point></MultiGeometry></Placemark></Document></kml>`;
    const [first] = taken(await read('a.kml', kml)).layout.strips;
    expect(first).toMatchObject({ treatment: 'A', polygon: { type: 'MultiPolygon' } });
  });

  test.each([
    ['notKml', '<kml><Document><Placemark></kml>'],
    ['unknownXml', '<?xml version="1.0"?><gpx version="1.1"></gpx>'],
    ['taskDataAlone', '<?xml version="1.0"?><ISO11783_TaskData VersionMajor="3"/>'],
    [
      'layoutHasNoPolygons',
      '<kml><Document><Placemark><Point><coordinates>1,2</coordinates></Point></Placemark></Document></kml>',
    ],
    ['noTreatmentProperty', HOLLOW.replace('"treatment"', '"colour"')],
  ])('names the problem %s', async (code, text) => {
    expect(codesOf(await read('a.kml', text))).toContain(code);
  });
});

describe('shapefile', () => {
  const degrees = { 'a.dbf': dbfFile(DEGREES), 'a.prj': asBytes(WGS84_PRJ) };
  const metres = { 'a.dbf': dbfFile(METRES), 'a.prj': asBytes(UTM_32N_PRJ) };

  test('loose parts, in degrees', async () => expectStrips(await read('a.shp', shpFile(DEGREES), degrees)));

  test('in metres of the zone that the .prj names (our own projection as oracle), said', async () => {
    const outcome = await read('a.shp', shpFile(METRES), metres);
    expectStrips(outcome);
    expect(problemOf(outcome, 'readInProjection').details.name).toBe('WGS_1984_UTM_Zone_32N');
  });

  test('by the newer well-known text, whose parameters need not name their units', async () => {
    // ISO 19162, from memory: angles are then in degrees, lengths in the unit of the coordinates.
    const base = (length: string) =>
      `DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563${length}]]`;
    const own = [
      'Latitude of natural origin",0',
      'Longitude of natural origin",9',
      'Scale factor at natural origin",0.9996',
    ];
    const moved = ['False easting",500000', 'False northing",0'];
    const zone = (length: string, end: string) =>
      `PROJCRS["Zone 32N",BASEGEOGCRS["WGS 84",${base(length)}],CONVERSION["zone",METHOD["Transverse Mercator"],${[...own, ...moved].map((one) => `PARAMETER["${one}${end}]`).join(',')}],CS[Cartesian,2],AXIS["(E)",east],AXIS["(N)",north],LENGTHUNIT["metre",1]]`;
    for (const prj of [zone('', ''), zone(',LENGTHUNIT["metre",1]', ',ID["EPSG",8801]')])
      expectStrips(await read('a.shp', shpFile(METRES), { ...metres, 'a.prj': asBytes(prj) }));
    const degree = 'ANGLEUNIT["degree",0.0174532925199433]';
    const plain = `GEOGCRS["WGS 84",${base(',LENGTHUNIT["metre",1]')},CS[ellipsoidal,2],AXIS["latitude",north,${degree}],AXIS["longitude",east,${degree}]]`;
    expectStrips(await read('a.shp', shpFile(DEGREES), { ...degrees, 'a.prj': asBytes(plain) }));
  });

  test('as a zip, in a folder, compressed or not', async () => {
    for (const level of [0, 6] as const) {
      const zip = zipped(
        { 'x/a.shp': shpFile(METRES), 'x/a.dbf': metres['a.dbf'], 'x/a.prj': metres['a.prj'] },
        level,
      );
      expectStrips(await read('a.zip', zip));
      expect(taken(await sniffSource(source('a.zip', zip)))).toBe('layout');
    }
  });

  test('letters by the .cpg, by UTF-8 or by windows-1252', async () => {
    const latin = dbfFile(DEGREES, (text) => Uint8Array.from(text, (letter) => letter.charCodeAt(0)));
    const shp = shpFile(DEGREES);
    expectStrips(await read('a.shp', shp, { 'a.dbf': latin, 'a.prj': degrees['a.prj'] }));
    expectStrips(await read('a.shp', shp, { ...degrees, 'a.dbf': latin, 'a.cpg': asBytes('ISO-8859-1') }));
    expectStrips(await read('a.shp', shp, { ...degrees, 'a.cpg': asBytes('UTF-8\n') }));
    const odd = await read('a.shp', shp, { ...degrees, 'a.cpg': asBytes('Klingon') });
    expect(codesOf(odd)).toContain('encodingNotKnown');
  });

  test('a hole stays a hole', async () => {
    const hole = [...strip(691_602, 5_335_900)].map(([x, y]) => [x / 1e5, y / 1e5] as const).reverse();
    const outer = [
      [6.9, 53],
      [6.9, 54],
      [7, 54],
      [7, 53],
      [6.9, 53],
    ] as const;
    const records = [{ rings: [outer, hole], attributes: { treatment: 'A' } }];
    const outcome = await read('a.shp', shpFile(records), { 'a.dbf': dbfFile(records) });
    expect(taken(outcome).layout.strips[0]?.polygon?.coordinates).toHaveLength(2);
    expect(codesOf(outcome)).toContain('projectionAssumed');
  });

  const empty = { rings: [], attributes: { treatment: 'A' } };
  test.each([
    ['shapefileWithoutDbf', shpFile(DEGREES), {}],
    ['projectionMissing', shpFile(METRES), { 'a.dbf': dbfFile(METRES) }],
    [
      'projectionNotRead',
      shpFile(METRES),
      { ...metres, 'a.prj': asBytes('PROJCS["Moon",PROJECTION["Cheese"]]') },
    ],
    ['dbfDamaged', shpFile(DEGREES), { 'a.dbf': dbfFile(DEGREES).subarray(0, 90) }],
    ['dbfDamaged', shpFile(DEGREES), { 'a.dbf': dbfFile(DEGREES.slice(1)) }],
    ['shapefileDamaged', shpFile(DEGREES).subarray(0, 200), degrees],
    ['shapefileEmpty', shpFile([]), { 'a.dbf': dbfFile([]) }],
    [
      'layoutHasNoPolygons',
      shpFile([{ point: [1, 2], attributes: { trt: 'A' } }]),
      { 'a.dbf': dbfFile([{ point: [1, 2], attributes: { trt: 'A' } }]) },
    ],
    [
      'ringTooShort',
      shpFile([
        {
          ...empty,
          rings: [
            [
              [1, 2],
              [1, 2],
            ],
          ],
        },
      ]),
      { 'a.dbf': dbfFile([empty]) },
    ],
  ])('names the problem %s', async (code, shp, beside) => {
    const outcome = await read('a.shp', shp, beside);
    expect(outcome.ok).toBe(false);
    expect(codesOf(outcome)).toContain(code);
  });

  test('its parts are found among the files by their name, and none stands alone', async () => {
    const files = ['A.shp', 'a.DBF', 'a.prj', 'a.sbn', 'b.dbf', 'c.csv'].map((name) => ({
      name,
      bytes: new Uint8Array(),
    }));
    expect(sourcesOf(files).map(({ name, beside }) => [name, beside.length])).toEqual([
      ['A.shp', 3],
      ['b.dbf', 0],
      ['c.csv', 0],
    ]);
    expect(sourceNamed('A.shp', files)?.beside).toHaveLength(3);
    expect(sourceNamed('d.shp', files)).toBe(null);
    expect(codesOf(await sniffSource(source('b.dbf', dbfFile(METRES))))).toEqual(['shapefilePartAlone']);
  });
});

describe('archives', () => {
  test.each([
    ['zipEmpty', zipped({})],
    ['zipEmpty', zipped({ 'photo.png': new Uint8Array(3) })],
    ['zipDamaged', zipped({ 'doc.kml': asBytes('<kml/>'.repeat(500)) }).subarray(0, 40)],
    ['zipHoldsNothingKnown', zipped({ 'readme.md': asBytes('nothing') })],
    ['severalInZip', zipped({ 'a.csv': asBytes('a,b'), 'b.csv': asBytes('a,b') })],
    ['severalInZip', zipped({ 'a.shp': shpFile(METRES), 'b.shp': shpFile(METRES) })],
    ['taskDataNoLayout', zipped({ 'TASKDATA/TASKDATA.XML': asBytes('<ISO11783_TaskData/>') })],
  ])('names the problem %s', async (code, zip) => {
    expect(codesOf(await read('a.zip', zip))).toEqual([code]);
  });

  test('a bomb is stopped while it inflates, whatever size it claims, and said with the limit', async () => {
    const one = zipped({ 'doc.kml': new Uint8Array(30_000_000) });
    new DataView(one.buffer, one.byteOffset).setUint32(22, 10, true);
    const local = one.subarray(0, one.lastIndexOf(0x50, one.length - 30));
    const bomb = new Uint8Array(9 * local.length);
    for (let copy = 0; copy < 9; copy += 1) bomb.set(local, copy * local.length);
    expect(bomb.length).toBeLessThan(1_000_000);
    const outcome = await read('a.kmz', bomb);
    expect(problemOf(outcome, 'zipTooLarge').details).toMatchObject({ limit: 250 });
  });

  test.each(['a.csv', './a.csv', '../up/a.csv', 'b/a.csv'])(
    'a single table in a zip is the table: %s',
    async (name) => {
      const zip = zipped({
        '.hidden': asBytes('x'),
        [name]: asBytes('Lat,Lon,Yield (t/ha)\n42.1,-93.1,9\n42.2,-93.1,9\n'),
      });
      expect(taken(await sniffSource(source('a.zip', zip)))).toBe('points');
    },
  );
});

describe('a table of corner points', () => {
  const rows = DEGREES.flatMap(({ rings = [], attributes }) =>
    rings.flatMap((ring) =>
      ring
        .slice(0, -1)
        .map(([x, y], corner) => [
          attributes.strip,
          corner + 1,
          x,
          y,
          attributes.treatment,
          attributes.block,
        ]),
    ),
  );
  const HEAD = 'Strip,Corner,Lon,Lat,Treatment,Block';
  const text = (list: readonly (readonly unknown[])[]) =>
    `${HEAD}\n${list.map((row) => row.join(',')).join('\n')}\n`;

  test('makes rings of them, in the order given whatever the order of rows (law)', async () => {
    expectStrips(await read('c.csv', text(rows)));
    const shuffled = [5, 2, 0, 7, 1, 3, 6, 4].map((index) => rows[index] ?? []);
    expectStrips({
      ...(await read('c.csv', text([...shuffled].sort((a, b) => String(a[0]).localeCompare(String(b[0])))))),
    });
    expect(taken(await sniffSource(source('c.csv', text(rows))))).toBe('layout');
  });

  test('in metres of a zone', async () => {
    const metres = METRES.flatMap(({ rings = [], attributes }) =>
      rings.flatMap((ring) =>
        ring
          .slice(0, -1)
          .map(([x, y]) => [attributes.strip, x, y, attributes.treatment, attributes.block].join(';')),
      ),
    );
    expectStrips(
      await read(
        'c.csv',
        `Strip;Easting (UTM 32N);Northing (UTM 32N);Treatment;Block\n${metres.join('\n')}\n`,
      ),
    );
    expect(
      codesOf(await read('c.csv', `Strip;Easting;Northing;Treatment;Block\n${metres.join('\n')}\n`)),
    ).toContain('askUtmZone');
  });

  const other = (row: number, column: number, cell: unknown) =>
    text(rows.map((cells, r) => cells.map((old, c) => (r === row && c === column ? cell : old))));
  test.each([
    ['cornersDisagree', other(1, 4, 'Other')],
    ['cornerNotRead', other(1, 2, '')],
    ['cornerNotRead', other(1, 0, '')],
    ['ringTooShort', text(rows.slice(0, 2))],
    ['cornersWithoutStrip', text(rows).replace('Strip,', 'Colour,')],
    ['noPositionColumns', text(rows).replace('Lon,', 'Colour,')],
    ['noTreatmentProperty', text(rows).replace('Treatment,', 'Colour,')],
  ])('names the problem %s', async (code, broken) => {
    const outcome = await read('c.csv', broken);
    expect(outcome.ok).toBe(false);
    expect(codesOf(outcome)).toContain(code);
  });
});
