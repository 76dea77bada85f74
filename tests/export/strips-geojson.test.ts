import { describe, expect, test } from 'vitest';
import { stripsGeojson } from '../../src/export/strips-geojson.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { StripPolygon } from '../../src/trial/trial-document.ts';
import { sampleReport } from './sample-report.ts';

type Ring = [number, number][];
const counterclockwise: Ring = [
  [7, 47],
  [7.001, 47],
  [7.001, 47.001],
  [7, 47.001],
  [7, 47],
];
const hole: Ring = [
  [7.0002, 47.0002],
  [7.0004, 47.0002],
  [7.0004, 47.0004],
  [7.0002, 47.0004],
  [7.0002, 47.0002],
];

function written(polygon: StripPolygon | null) {
  const report = sampleReport();
  const strips = [{ id: '1', treatment: 't', block: null, place: 1, polygon }];
  return JSON.parse(stripsGeojson(report, { ...newTrial('x'), strips })) as {
    type: string;
    features: {
      geometry: { type: string; coordinates: Ring[] } | null;
      properties: Record<string, unknown>;
    }[];
  };
}

/** The shoelace formula; positive where counterclockwise. */
function area(ring: Ring): number {
  return ring.slice(1).reduce((sum, [x, y], i) => sum + (ring[i]![0] * y - x * ring[i]![1]) / 2, 0);
}

describe('strips as GeoJSON (RFC 7946)', () => {
  test.each([
    { outer: counterclockwise, inner: hole },
    { outer: counterclockwise.toReversed(), inner: hole },
    { outer: counterclockwise.toReversed(), inner: hole.toReversed() },
    { outer: counterclockwise, inner: hole.toReversed() },
  ])('section 3.1.6: outer ring counterclockwise, hole clockwise, however they came', ({ outer, inner }) => {
    const { features } = written({ type: 'Polygon', coordinates: [outer, inner] });
    const rings = features[0]?.geometry?.coordinates ?? [];
    expect(area(rings[0]!)).toBeGreaterThan(0);
    expect(area(rings[1]!)).toBeLessThan(0);
    expect(Math.abs(area(rings[0]!))).toBeCloseTo(Math.abs(area(outer)), 12);
    for (const ring of rings) expect(ring[0]).toEqual(ring.at(-1));
  });

  test('section 3.2: a strip without a polygon is a feature with a null geometry; every strip is there', () => {
    const { type, features } = written(null);
    expect(type).toBe('FeatureCollection');
    expect(features.length).toBe(sampleReport().strips.length);
    expect(features.every(({ geometry }) => geometry === null)).toBe(true);
    expect(features[0]?.properties).toMatchObject({
      strip: '1',
      'yield (t/ha)': expect.any(Number),
      used: true,
    });
  });
});
