import { describe, expect, test } from 'vitest';
import type { ApplicationLog } from '../../src/intake/application-log.ts';
import { readApplicationSource } from '../../src/intake/read-application.ts';
import { sniffSource } from '../../src/intake/read-source.ts';
import type { ApplicationFile } from '../../src/trial/trial-document.ts';
import { asBytes } from './as-bytes.ts';
import { dbfFile, type ShapeRecord, shpFile, source, WGS84_PRJ } from './made-files.ts';

const ASKED: ApplicationFile = { path: 'log.csv', columns: {}, swathM: null, products: [] };

async function read(text: string, asked: Partial<ApplicationFile> = {}, name = 'log.csv') {
  return readApplicationSource(source(name, asBytes(text)), { ...ASKED, ...asked });
}

async function log(text: string, asked: Partial<ApplicationFile> = {}): Promise<ApplicationLog> {
  const outcome = await read(text, asked);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const [first] = outcome.value;
  if (first === undefined || outcome.value.length > 1) throw new Error(`${outcome.value.length} logs`);
  return first;
}

/** Definitions: NIST Handbook 44, appendix C (gallon), and the international pound, foot and acre. */
const L_PER_GALLON = 3.785411784;
const HA_PER_ACRE = 0.40468564224;

describe('an application log of points', () => {
  const TEXT = [
    'Longitude,Latitude,Target rate (gal/ac),Applied rate (gal/ac),Product name,Swath width (ft),Boom,Time',
    '9.50000,48.20000,10,9.8,Alpha 250,40,on,2026-05-04 10:00:00',
    '9.50000,48.20002,10,10.2,Alpha 250,40,on,2026-05-04 10:00:01',
    '9.50000,48.20004,10,0,Alpha 250,40,off,2026-05-04 10:00:02',
    '9.50010,48.20004,10,10,Beta,40,on,2026-05-04 10:00:40',
    '',
  ].join('\n');

  test('is told by a rate per area, and read in SI', async () => {
    expect(await sniffSource(source('log.csv', asBytes(TEXT)))).toMatchObject({
      ok: true,
      value: 'application',
    });
    const { rate, rateUnit, products, product, applied, ground } = await log(TEXT);
    expect(rateUnit).toBe('L/ha');
    expect(rate?.[0]).toBeCloseTo((9.8 * L_PER_GALLON) / HA_PER_ACRE, 10);
    expect(products).toEqual(['Alpha 250', 'Beta']);
    expect([...product]).toEqual([0, 0, 0, 1]);
    expect([...applied]).toEqual([1, 1, 0, 1]);
    if (ground.kind !== 'points') throw new Error('points expected');
    expect(ground.widthM[0]).toBeCloseTo(40 * 0.3048, 12);
    expect([...(ground.timeS ?? [])]).toEqual([0, 1, 2, 40]);
  });

  test('a flow without speed or times tells coverage alone', async () => {
    const TEXT = 'lon,lat,Flow (gal/min),Width (m)\n9.5,48.2,4,12\n9.5,48.2001,0,12\n9.5,48.2002,4,12\n';
    const outcome = await read(TEXT);
    expect(outcome.problems.map(({ code }) => code)).toEqual(['flowWithoutSpeed']);
    expect(await sniffSource(source('log.csv', asBytes(TEXT)))).toMatchObject({ value: 'application' });
    const fuel = asBytes(TEXT.replace('Flow', 'Fuel flow'));
    expect(await sniffSource(source('log.csv', fuel))).toMatchObject({ value: 'points' });
    expect(await log(TEXT)).toMatchObject({ rate: null, rateUnit: null, applied: Uint8Array.of(1, 0, 1) });
    // 495 × gal/min / (mph × ft) = gal/ac: 4 at 5 mph over 39.6 ft are 10 gal/ac.
    const withSpeed = await log(
      'lon,lat,Flow (gal/min),Width (ft),Speed (mph)\n9.5,48.2,4,39.6,5\n9.5,48.3,4,39.6,5\n',
    );
    expect(withSpeed.rate?.[0]).toBeCloseTo((10 * L_PER_GALLON) / HA_PER_ACRE, 9);
  });

  test.each([
    ['seeds/m2', 1e4, 'seeds/ha'],
    ['Körner/m²', 1e4, 'seeds/ha'],
    ['1000 seeds/ac', 1000 / HA_PER_ACRE, 'seeds/ha'],
    ['lb/ac', 0.45359237 / HA_PER_ACRE, 'kg/ha'],
    ['oz wt/ac', 0.028349523125 / HA_PER_ACRE, 'kg/ha'],
    ['kg/ha', 1, 'kg/ha'],
    ['fl oz/ac', L_PER_GALLON / 128 / HA_PER_ACRE, 'L/ha'],
    ['pt/ac', L_PER_GALLON / 8 / HA_PER_ACRE, 'L/ha'],
    ['qt/ac', L_PER_GALLON / 4 / HA_PER_ACRE, 'L/ha'],
    ['L/ha', 1, 'L/ha'],
  ])('a rate of 3 %s', async (unit, factor, inside) => {
    const { rate, rateUnit } = await log(`lon,lat,width (m),rate (${unit})\n9.5,48.2,12,3\n9.5,48.3,12,3\n`);
    expect(rateUnit).toBe(inside);
    expect(rate?.[0]).toBeCloseTo(3 * factor, 10);
  });

  test('asks for a unit that is missing or could be two, as "oz" is a mass and a volume', async () => {
    for (const heading of ['rate', 'rate (oz/ac)']) {
      const { ok, problems } = await read(`lon,lat,width (m),${heading}\n9.5,48.2,12,3\n9.5,48.3,12,3\n`);
      expect(ok).toBe(false);
      expect(problems.map(({ code }) => code)).toContain('askUnit');
    }
    const chosen = { appliedRate: { heading: 'rate (oz/ac)', unit: 'fl oz/ac' } };
    const text = 'lon,lat,width (m),rate (oz/ac)\n9.5,48.2,12,3\n9.5,48.3,12,3\n';
    expect((await log(text, { columns: chosen })).rateUnit).toBe('L/ha');
  });

  test('asks for the swath, and takes it from the user', async () => {
    const text = 'lon,lat,rate (L/ha)\n9.5,48.2,150\n9.5,48.2001,150\n';
    expect((await read(text)).problems.map(({ code }) => code)).toContain('askSwath');
    const { ground } = await log(text, { swathM: 6 });
    expect(ground).toMatchObject({ kind: 'points', widthM: Float64Array.of(6, 6) });
  });

  test('without rate and state counts every row, and says so', async () => {
    const outcome = await read('lon,lat,swath (m)\n9.5,48.2,12\n9.5,48.2001,12\n');
    const codes = outcome.problems.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['noAppliedRate', 'everyRowApplied']));
    expect(outcome.ok && [...(outcome.value[0]?.applied ?? [])]).toEqual([1, 1]);
  });

  test('refuses one in which nothing was put out, and positions that are missing', async () => {
    const off = 'lon,lat,swath (m),rate (L/ha)\n9.5,48.2,12,0\n9.5,48.2001,12,\n';
    expect((await read(off)).problems.map(({ code }) => code)).toContain('nothingApplied');
    const nowhere = await read('swath (m),rate (L/ha)\n12,100\n12,100\n');
    expect(nowhere.problems.map(({ code }) => code)).toContain('noPositionColumns');
  });

  test('takes a negative rate for nothing, and says so', async () => {
    const text = 'lon,lat,swath (m),rate (L/ha)\n9.5,48.2,12,-5\n9.5,48.2001,12,100\n';
    const outcome = await read(text);
    expect(outcome.ok && [...(outcome.value[0]?.applied ?? [])]).toEqual([0, 1]);
    expect(outcome.problems.map(({ code }) => code)).toContain('rateImpossible');
  });
});

test('states that say neither on nor off are named', async () => {
  const words = 'lon,lat,swath (m),rate (L/ha),boom\n9.5,48.2,12,100,on\n9.5,48.2001,12,100,perhaps\n';
  const outcome = await read(words);
  expect(outcome.ok && [...(outcome.value[0]?.applied ?? [])]).toEqual([1, 1]);
  expect(outcome.problems.map(({ code }) => code)).toContain('sprayStateNotRead');
});

describe('an application log of areas', () => {
  const ring = [
    [9.5, 48.2],
    [9.5, 48.202],
    [9.5001, 48.202],
    [9.5001, 48.2],
    [9.5, 48.2],
  ] as const;
  const area = (product: string, rate: number) => ({
    type: 'Feature',
    properties: { product, 'rate (lb/ac)': rate },
    geometry: { type: 'Polygon', coordinates: [ring] },
  });

  test('from GeoJSON, with rate and product as properties', async () => {
    const features = [area('Alpha', 10), area('Beta', 0)];
    const { ground, rate, rateUnit, products, applied } = await log(
      JSON.stringify({ type: 'FeatureCollection', features }),
    );
    expect(ground).toMatchObject({ kind: 'areas', polygons: [{ type: 'Polygon' }, { type: 'Polygon' }] });
    expect(rate?.[0]).toBeCloseTo((10 * 0.45359237) / HA_PER_ACRE, 10);
    expect([rateUnit, products, [...applied]]).toEqual(['kg/ha', ['Alpha', 'Beta'], [1, 0]]);
  });

  test('from a shapefile and from KML', async () => {
    const shapes: readonly ShapeRecord[] = [
      { rings: [ring.map(([x, y]) => [x, y] as const)], attributes: { PRODUCT: 'Alpha', RATE_L_HA: 150 } },
    ];
    const beside = { 'a.dbf': dbfFile(shapes), 'a.prj': asBytes(WGS84_PRJ) };
    const shape = await readApplicationSource(source('a.shp', shpFile(shapes), beside), ASKED);
    expect(
      shape.ok && shape.value.map(({ products, rateUnit, rate }) => [products, rateUnit, rate?.[0]]),
    ).toEqual([[['Alpha'], 'L/ha', 150]]);
    const corners = ring.map((corner) => corner.join(',')).join(' ');
    const kml = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><ExtendedData><Data name="Product"><value>Alpha</value></Data><Data name="Rate (kg/ha)"><value>40</value></Data></ExtendedData><Polygon><outerBoundaryIs><LinearRing><coordinates>${corners}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></Document></kml>`;
    const placemarks = await read(kml, {}, 'a.kml');
    expect(placemarks.ok && placemarks.value.map(({ products, rateUnit }) => [products, rateUnit])).toEqual([
      [['Alpha'], 'kg/ha'],
    ]);
  });
});
