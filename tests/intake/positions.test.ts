import fc from 'fast-check';
import proj4 from 'proj4';
import { describe, expect, test } from 'vitest';
import { readDegreeText } from '../../src/intake/degree-text.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { fromUtm, readUtmZone } from '../../src/intake/utm-zone.ts';
import type { HarvestFile } from '../../src/trial/trial-document.ts';
import { asBytes, problemOf, taken } from './as-bytes.ts';

const points = (text: string, columns: HarvestFile['columns'] = {}) =>
  readPoints(asBytes(text), 'y.csv', { path: 'y.csv', kind: 'points', columns, yieldColumns: [] }, null);

describe('UTM zones', () => {
  test('agree with proj4 to a micrometre of latitude and longitude all over the zone (oracle)', () => {
    const place = fc.record({
      zone: fc.integer({ min: 1, max: 60 }),
      isSouth: fc.boolean(),
      offset: fc.double({ min: -3.5, max: 3.5, noNaN: true }),
      latitude: fc.double({ min: 0.01, max: 80, noNaN: true }),
    });
    fc.assert(
      fc.property(place, ({ zone, isSouth, offset, latitude }) => {
        const definition = `+proj=utm +zone=${zone} ${isSouth ? '+south ' : ''}+datum=WGS84 +units=m +no_defs`;
        const at: [number, number] = [6 * zone - 183 + offset, isSouth ? -latitude : latitude];
        const [east, north] = proj4(definition, at) as [number, number];
        const back = fromUtm({ zone, isSouth, name: '' })(east, north);
        const turned = back[0] - at[0] - 360 * Math.round((back[0] - at[0]) / 360);
        // 1e-11 degrees are about a micrometre.
        expect(Math.abs(turned * Math.cos((at[1] * Math.PI) / 180))).toBeLessThan(2e-11);
        expect(Math.abs(back[1] - at[1])).toBeLessThan(2e-11);
      }),
      { numRuns: 500, seed: 31 },
    );
  });

  test.each([
    ['UTM 32N', 'UTM 32N'],
    ['utm zone 14 south', 'UTM 14S'],
    ['Easting (UTM32 N)', 'UTM 32N'],
    ['X_UTM_09N', 'UTM 9N'],
    ['EPSG:32614', 'UTM 14N'],
    ['32733', 'UTM 33S'],
    ['EPSG:25832', 'UTM 32N'],
  ])('%s is %s', (text, name) => expect(readUtmZone(text)?.name).toBe(name));

  test.each(['UTM 61N', 'UTM 32', 'UTM 32U', 'EPSG:4326', 'UTM 0N', 'm'])('%s is none', (text) =>
    expect(readUtmZone(text)).toBe(null),
  );

  const GRID = '691607.86,5335852.96,9.1\n691617.86,5335862.96,9.2\n';
  const AT = proj4('+proj=utm +zone=32 +datum=WGS84', 'WGS84', [691607.86, 5335852.96]) as [number, number];

  test.each([
    ['named in the heading', 'Easting (UTM 32N),Northing (UTM 32N),Yield (t/ha)', {}],
    ['named in one heading', 'Easting UTM 32N (m),Northing (m),Yield (t/ha)', {}],
    [
      'chosen for one column',
      'Easting,Northing,Yield (t/ha)',
      { longitude: { heading: 'Easting', unit: 'UTM 32N' } },
    ],
    [
      'chosen for letters',
      'X,Y,Yield (t/ha)',
      { longitude: { heading: 'X', unit: 'EPSG:32632' }, latitude: { heading: 'Y', unit: null } },
    ],
  ])('a zone %s turns metres into degrees', (_, headings, columns) => {
    const outcome = points(`${headings}\n${GRID}`, columns);
    expect(taken(outcome).longitude[0]).toBeCloseTo(AT[0], 10);
    expect(taken(outcome).latitude[0]).toBeCloseTo(AT[1], 10);
    expect(problemOf(outcome, 'readInZone').details.zone).toBe('UTM 32N');
  });

  test('without a zone, metres are a question', () => {
    expect(problemOf(points(`Easting (m),Northing (m),Yield (t/ha)\n${GRID}`), 'askUtmZone')).toMatchObject({
      column: 'Easting (m)',
      details: { role: 'longitude', example: '691607.86' },
    });
  });

  test('a zone chosen for degrees is refused, a single stray point is set aside', () => {
    const columns = { longitude: { heading: 'Lon', unit: 'UTM 32N' } };
    const degrees = points('Lon,Lat,Yield (t/ha)\n11.5,48.1,9\n11.6,48.1,9\n', columns);
    expect(degrees.ok).toBe(false);
    expect(problemOf(degrees, 'notInZone').details.count).toBe(2);
    const stray = points(`Easting (UTM 32N),Northing (UTM 32N),Yield (t/ha)\n${GRID}0,0,9\n`);
    expect(taken(stray).longitude[2]).toBeNaN();
    expect(problemOf(stray, 'notInZone')).toMatchObject({ severity: 'warning', row: 4 });
  });
});

describe('degrees, minutes and seconds', () => {
  test('whatever is written comes back (law)', () => {
    const form = fc.constantFrom(
      (d: number, m: number, s: number, l: string) => `${d}°${m}'${s}"${l}`,
      (d: number, m: number, s: number, l: string) => `${l} ${d} ${m} ${s}`,
      (d: number, m: number, s: number, l: string) => `${d}° ${m}′ ${s}″ ${l}`,
      (d: number, m: number, s: number, l: string) => `${d}:${m}:${s}${l}`,
    );
    const second = fc.integer({ min: 0, max: 59_999 }).map((ms) => ms / 1000);
    fc.assert(
      fc.property(
        form,
        fc.integer({ min: 0, max: 89 }),
        fc.integer({ min: 0, max: 59 }),
        second,
        fc.boolean(),
        (write, d, m, s, isNegative) => {
          const value = (isNegative ? -1 : 1) * (d + m / 60 + s / 3600);
          expect(readDegreeText(write(d, m, s, isNegative ? 'S' : 'N'), 'latitude')).toBeCloseTo(value, 12);
          expect(readDegreeText(write(d, m, s, isNegative ? 'W' : 'E'), 'longitude')).toBeCloseTo(value, 12);
        },
      ),
      { numRuns: 300, seed: 32 },
    );
  });

  test.each([
    ["48°08.205'N", 48.13675],
    ['N48.13675', 48.13675],
    ['48.13675 N', 48.13675],
    ['-48 08 12.3', -48.13675],
    ['48,13675° N', 48.13675],
  ])('%s', (text, value) => expect(readDegreeText(text, 'latitude')).toBeCloseTo(value, 12));

  test.each([
    "48°61'N",
    '48°08\'60"N',
    "48.5°30'N",
    'N 48 N',
    "48°08'E",
    '-48 08 S',
    'north',
    '',
    '48 08 12 13',
  ])('%s is none', (text) => expect(readDegreeText(text, 'latitude')).toBeNaN());

  test('a file of them is read, and said', () => {
    const text =
      'Lon;Lat;Yield (t/ha)\n11°30\'00"E;48°06\'00"N;9,1\n11°30\'36"E;48°06\'00"N;9,2\n?;48°06\'00"N;9,2\n';
    const outcome = points(text);
    expect(taken(outcome).longitude[1]).toBeCloseTo(11.51, 12);
    expect(taken(outcome).latitude[1]).toBeCloseTo(48.1, 12);
    expect(problemOf(outcome, 'positionsInMinutes')).toMatchObject({ row: 2 });
    expect(problemOf(outcome, 'textInNumberColumn')).toMatchObject({ row: 4, details: { text: '?' } });
  });

  test('also from the bytes of a large file, where the degree sign is two bytes', () => {
    const text = `Lon,Lat,Yield (t/ha)\n${"11°30.6'E,48°06.0'N,9.1\n".repeat(12_000)}`;
    expect(taken(points(text)).longitude[11_999]).toBeCloseTo(11.51, 12);
  });
});
