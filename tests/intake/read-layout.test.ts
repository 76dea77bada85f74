import { describe, expect, test } from 'vitest';
import { readLayout } from '../../src/intake/read-layout.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const NONE = { strip: null, treatment: null, block: null };
type Json = Readonly<Record<string, unknown>>;

// The polygon of RFC 7946, appendix A.3 (from memory).
const RING = [
  [100.0, 0.0],
  [101.0, 0.0],
  [101.0, 1.0],
  [100.0, 1.0],
  [100.0, 0.0],
];
// The hole of the same appendix.
const HOLE = [
  [100.8, 0.8],
  [100.8, 0.2],
  [100.2, 0.2],
  [100.2, 0.8],
  [100.8, 0.8],
];

function feature(
  properties: Json | null,
  geometry: unknown = { type: 'Polygon', coordinates: [RING] },
  more: Json = {},
) {
  return { type: 'Feature', properties, geometry, ...more };
}

function read(features: readonly unknown[], properties: Partial<typeof NONE> | Json = {}, more: Json = {}) {
  const text = JSON.stringify({ type: 'FeatureCollection', features, ...more });
  return readLayout(asBytes(text), 'l.geojson', { ...NONE, ...properties });
}

const FOUR = [
  feature({ strip: 1, treatment: 'Untreated', block: 'N', place: 1 }),
  feature({ strip: 2, treatment: 'Early', block: 'N', place: 2 }),
  feature({ strip: 3, treatment: 'Early', block: 'S', place: 3 }),
  feature({ strip: 4, treatment: 'Untreated', block: 'S', place: 4 }),
];

describe('readLayout', () => {
  test('takes strips, treatments, blocks, places and the check', () => {
    const outcome = read(FOUR);
    const { layout, properties } = taken(outcome);
    expect(layout.strips.map(({ id, treatment, block, place }) => [id, treatment, block, place])).toEqual([
      ['1', 'Untreated', 'N', 1],
      ['2', 'Early', 'N', 2],
      ['3', 'Early', 'S', 3],
      ['4', 'Untreated', 'S', 4],
    ]);
    expect(layout.treatments.map(({ id, isCheck }) => [id, isCheck])).toEqual([
      ['Untreated', true],
      ['Early', false],
    ]);
    expect(layout.blocks).toEqual([
      { id: 'N', name: 'N' },
      { id: 'S', name: 'S' },
    ]);
    expect(properties.treatment).toEqual({ property: 'treatment', chosenByUser: false });
    expect(codesOf(outcome)).toEqual(['checkFoundByName']);
    expect(layout.file).toEqual({ path: 'l.geojson', properties: NONE });
  });

  test('polygons with holes and multipolygons of RFC 7946 pass unchanged', () => {
    const multi = { type: 'MultiPolygon', coordinates: [[RING], [RING, HOLE]] };
    const outcome = read([
      feature({ trt: 'A' }, { type: 'Polygon', coordinates: [RING, HOLE] }),
      feature({ trt: 'B' }, multi),
    ]);
    expect(taken(outcome).layout.strips.map(({ polygon }) => polygon)).toEqual([
      { type: 'Polygon', coordinates: [RING, HOLE] },
      multi,
    ]);
  });

  test('order of features and properties changes only the order of strips (law)', () => {
    const turned = FOUR.map((f) => ({
      ...f,
      properties: Object.fromEntries(Object.entries(f.properties ?? {}).reverse()),
    }));
    const plain = taken(read(FOUR)).layout.strips;
    expect(taken(read([...turned].reverse())).layout.strips).toEqual([...plain].reverse());
  });

  test('names given by the user win; a name that is not there is refused', () => {
    const features = [feature({ treatment: 'x', what: 'A' }), feature({ treatment: 'y', what: 'B' })];
    const { layout } = taken(read(features, { treatment: 'what' }));
    expect(layout.strips.map(({ treatment }) => treatment)).toEqual(['A', 'B']);
    expect(problemOf(read(features, { treatment: 'wat' }), 'noSuchProperty').details.properties).toEqual([
      'treatment',
      'what',
    ]);
  });

  test('two properties that mean the treatment are a question', () => {
    const outcome = read([feature({ trt: 'A', treatment: 'A' })]);
    expect(problemOf(outcome, 'askWhichProperty').details).toEqual({
      role: 'treatment',
      candidates: ['trt', 'treatment'],
    });
  });

  test('strips without a name get one of block, treatment and order, said; the "id" of a feature is a name', () => {
    const outcome = read([
      feature({ trt: 'A', block: 1 }),
      feature({ trt: 'A', block: 1 }),
      feature({ trt: 'B', block: 1 }, undefined, { id: 17 }),
    ]);
    expect(taken(outcome).layout.strips.map(({ id }) => id)).toEqual(['1-A', '1-A-2', '17']);
    expect(problemOf(outcome, 'stripIdsMade').details).toEqual({ count: 2, example: '1-A' });
  });

  test('an open ring is closed, said', () => {
    const outcome = read([feature({ trt: 'A' }, { type: 'Polygon', coordinates: [RING.slice(0, 4)] })]);
    expect(taken(outcome).layout.strips[0]?.polygon?.coordinates).toEqual([RING]);
    expect(problemOf(outcome, 'ringClosed').details).toMatchObject({ feature: 1, count: 1 });
  });

  test('other geometries and features without a treatment are left out, counted and named', () => {
    const point = { type: 'Point', coordinates: [100, 0] };
    const outcome = read([
      feature({ trt: 'A' }),
      feature({ trt: 'B' }, point),
      feature({ strip: 'edge', trt: ' ' }),
      feature({ trt: 'C' }, null),
    ]);
    expect(taken(outcome).layout.strips.map(({ treatment }) => treatment)).toEqual(['A']);
    expect(problemOf(outcome, 'featuresNotPolygons').details).toEqual({
      count: 2,
      first: 2,
      types: ['Point', 'none'],
    });
    expect(problemOf(outcome, 'featureWithoutTreatment')).toMatchObject({
      severity: 'warning',
      details: { feature: 3, strip: 'edge', count: 1 },
    });
  });

  test('several treatments named like a check: none is taken', () => {
    const outcome = read([feature({ trt: 'Untreated' }), feature({ trt: 'Control' })]);
    expect(taken(outcome).layout.treatments.every(({ isCheck }) => !isCheck)).toBe(true);
    expect(problemOf(outcome, 'severalCheckNames').details.treatments).toEqual(['Untreated', 'Control']);
  });

  test('features of one name, treatment and block are parts of one strip, which is said', () => {
    const part = (treatment: string) => feature({ trt: treatment, strip: 'S1', block: '1' });
    const outcome = read([part('A'), feature({ trt: 'B', strip: 'S2', block: '1' }), part('A')]);
    const { strips } = taken(outcome).layout;
    expect(strips.map(({ id, polygon }) => [id, polygon?.type, polygon?.coordinates.length])).toEqual([
      ['S1', 'MultiPolygon', 2],
      ['S2', 'Polygon', 1],
    ]);
    expect(problemOf(outcome, 'stripPartsJoined').details).toEqual({ strips: ['S1'], count: 1 });
    expect(codesOf(read([part('A'), part('B')]))).toContain('stripIdTwice');
  });

  test('a fault of many outlines is one message with all their numbers', () => {
    const crossed = {
      type: 'Polygon',
      coordinates: [
        [
          [1, 1],
          [2, 2],
          [2, 1],
          [1, 2],
          [1, 1],
        ],
      ],
    };
    const outcome = read([
      feature({ trt: 'A' }, crossed),
      feature({ trt: 'B' }),
      feature({ trt: 'A' }, crossed),
    ]);
    expect(codesOf(outcome)).toEqual(['ringCrossesItself']);
    expect(problemOf(outcome, 'ringCrossesItself').details).toEqual({
      feature: 1,
      features: ['1', '3'],
      count: 2,
    });
  });

  const ring = (...corners: number[][]) => ({ type: 'Polygon', coordinates: [corners] });
  test.each([
    [
      'a name that stands twice',
      [feature({ trt: 'A', strip: 7 }), feature({ trt: 'B', strip: '7' })],
      'stripIdTwice',
      { strip: '7', feature: 1, otherFeature: 2 },
    ],
    [
      'a ring of two corners',
      [feature({ trt: 'A' }, ring([1, 1], [2, 2], [1, 1]))],
      'ringTooShort',
      { feature: 1, positions: 2 },
    ],
    [
      'corners out of order',
      [feature({ trt: 'A' }, ring([1, 1], [2, 2], [2, 1], [1, 2], [1, 1]))],
      'ringCrossesItself',
      { feature: 1 },
    ],
    [
      'coordinates that are no numbers',
      [feature({ trt: 'A' }, ring(['x' as never, 1], [2, 2], [3, 3]))],
      'brokenCoordinates',
      { feature: 1 },
    ],
    [
      'coordinates in metres',
      [feature({ trt: 'A' }, ring([684000, 5334000], [684010, 5334000], [684010, 5334010]))],
      'notDegrees',
      { longitude: 684000, latitude: 5334000 },
    ],
    [
      'latitude before longitude',
      [feature({ trt: 'A' }, ring([42, -93], [42, -94], [43, -94]))],
      'latitudeLongitudeSwapped',
      { longitude: 42, latitude: -93 },
    ],
    [
      'no polygons',
      [feature({ trt: 'A' }, { type: 'Point', coordinates: [1, 1] })],
      'layoutHasNoPolygons',
      { features: 1, types: ['Point'] },
    ],
    ['no features', [], 'layoutHasNoPolygons', { features: 0, types: [] }],
    ['no treatment property', [feature({ colour: 'A' })], 'noTreatmentProperty', { properties: ['colour'] }],
    [
      'a strip in no block',
      [feature({ trt: 'A', block: 1 }), feature({ trt: 'B' })],
      'featureWithoutBlock',
      { feature: 2, strip: null, count: 1 },
    ],
  ])('refuses %s', (_, features, code, details) => {
    const outcome = read(features);
    expect(outcome.ok).toBe(false);
    expect(problemOf(outcome, code)).toMatchObject({ severity: 'error', details });
  });

  test('the "crs" member of older files: WGS 84 passes, others are refused', () => {
    const named = (name: string) => read(FOUR, {}, { crs: { type: 'name', properties: { name } } });
    expect(named('urn:ogc:def:crs:OGC:1.3:CRS84').ok).toBe(true);
    expect(named('EPSG:4326').ok).toBe(true);
    expect(problemOf(named('urn:ogc:def:crs:EPSG::25832'), 'otherCoordinateSystem').details.name).toContain(
      '25832',
    );
    expect(named('EPSG:14326').ok).toBe(false);
  });

  test.each([
    ['{"type":"FeatureCollection",\n"features": [\n{"a" 1}]}', 'notJson', 3],
    ['{"type":"FeatureCollection",\n"features": [', 'notJson', 2],
    ['{"type":"Polygon","coordinates":[]}', 'notGeoJson', null],
    ['[1,2]', 'notGeoJson', null],
    ['null', 'notGeoJson', null],
    ['  ', 'emptyFile', null],
  ])('refuses %j: %s', (text, code, row) => {
    const outcome = readLayout(asBytes(text), 'l.geojson', NONE);
    expect(codesOf(outcome)).toEqual([code]);
    expect(outcome.problems[0]?.row).toBe(row);
  });

  test('without a block property the trial is read as completely randomized, said', () => {
    const outcome = read([feature({ trt: 'A' }), feature({ trt: 'B' })]);
    expect(taken(outcome).layout.blocks).toEqual([]);
    expect(codesOf(outcome)).toContain('noBlockProperty');
    expect(newTrial('x').blocks).toEqual(taken(outcome).layout.blocks);
  });
});
