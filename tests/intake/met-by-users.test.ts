import { describe, expect, test } from 'vitest';
import { readLayout } from '../../src/intake/read-layout.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

/** Files as people have them, each a small departure from the plain form; what they hold is known by construction. */
const points = (text: string) =>
  readPoints(asBytes(text), 'y.csv', { path: 'y.csv', kind: 'points', columns: {}, yieldColumns: [] }, null);

describe('longitudes counted from 0 to 360', () => {
  const file = (cells: readonly string[]) =>
    `Longitude,Latitude,Yield (t/ha)\n${cells.map((at) => `${at},9.5\n`).join('')}`;

  test('are brought to ±180 and said, in points and in outlines', () => {
    const outcome = points(file(['266.5,42', '266.5001,42', '0,0', '266.5002,42']));
    expect([...taken(outcome).longitude].map((value) => Math.round(1e4 * value) / 1e4)).toEqual([
      -93.5,
      -93.4999,
      Number.NaN,
      -93.4998,
    ]);
    expect(problemOf(outcome, 'longitudesEastward').details).toEqual({
      longitude: 266.5,
      readAs: -93.5,
      count: 3,
    });
    const ring = [
      [266.5, 42],
      [266.6, 42],
      [266.6, 42.1],
      [266.5, 42],
    ];
    const feature = {
      type: 'Feature',
      properties: { trt: 'A' },
      geometry: { type: 'Polygon', coordinates: [ring] },
    };
    const json = asBytes(JSON.stringify({ type: 'FeatureCollection', features: [feature] }));
    const layout = readLayout(json, 'l.geojson', { strip: null, treatment: null, block: null });
    expect(taken(layout).layout.strips[0]?.polygon?.coordinates[0]?.[0]).toEqual([-93.5, 42]);
  });

  test('are not seen in metres of a local grid, nor in a column that holds both', () => {
    expect(codesOf(points(file(['266.5,42', '290,42', '350,60'])))).toContain('notDegrees');
    expect(codesOf(points(file(['266.5,42', '-93.5,42', '-93.4,42'])))).toEqual(['latitudeOutOfRange']);
  });
});

test('rows that agree with one another and not with the headings are told apart from prose', () => {
  const rows = (cells: string) => `${cells}\n`.repeat(20);
  const numbered = points(`Lon,Lat,Yield (t/ha)\n${rows('1,11.5,48.1,9.5')}`);
  expect(problemOf(numbered, 'headingsAndRowsDiffer').details).toEqual({
    separator: 'commas',
    headings: 3,
    cells: 4,
  });
  const commas = points(`Lon,Lat,Yield (t/ha)\n${rows('11,5,48,1,9,5')}`);
  expect(problemOf(commas, 'headingsAndRowsDiffer').details).toMatchObject({ headings: 3, cells: 6 });
  expect(codesOf(points(rows('A letter, of sorts')))).not.toContain('headingsAndRowsDiffer');
});

test('a first line of numbers and times is data, not headings', () => {
  expect(codesOf(points('11.5,48.1,9.5,2024-08-01 10:00:00\n11.6,48.1,9.4,2024-08-01 10:00:01\n'))).toEqual([
    'noHeadings',
  ]);
});

test('a unit that could be two is asked for, though its last part alone is one', () => {
  const outcome = points('Lon,Lat,Yield (ton/ac)\n11.5,48.1,4\n11.6,48.1,4\n');
  expect(problemOf(outcome, 'askUnit')).toMatchObject({
    column: 'Yield (ton/ac)',
    details: { role: 'yield' },
  });
});

test('what only corrects a yield is no yield', () => {
  const outcome = points(
    'Lon,Lat,Yield (t/ha),Yield offset,Yield calibration factor\n11.5,48.1,4,0,1\n11.6,48.1,4,0,1\n',
  );
  expect([...(taken(outcome).yieldKgPerHa ?? [])]).toEqual([4000, 4000]);
});

test.each([
  ['Débit massique (kg/s)', 'massFlow'],
  ['Caudal (kg/s)', 'massFlow'],
  ['Rendimento (t/ha)', 'yield'],
  ['Productividad (kg/ha)', 'yield'],
])('%s is a %s', (heading, role) => {
  const outcome = points(
    `Lon,Lat,${heading},Fahrgeschwindigkeit [km/h],Rumo (°)\n11.5,48.1,4,5,6\n11.6,48.1,4,5,6\n`,
  );
  const roles = taken(outcome).recognition.columns.map((column) => column.role);
  expect(roles).toEqual(['longitude', 'latitude', role, 'speed', 'heading']);
});
