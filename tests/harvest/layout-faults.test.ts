import { describe, expect, it } from 'vitest';
import { layoutFaults, placesOfStrips } from '../../src/harvest/layout-faults.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import { frameOfStrips } from '../../src/trial/frame-of-strips.ts';
import type { Strip } from '../../src/trial/trial-document.ts';
import { geographic, trialOfStrips } from './field-of-strips.ts';

/** A strip by its corners in local metres, turned about its first corner. */
function strip(id: string, west: number, south: number, width: number, length: number, degrees = 0): Strip {
  const angle = (degrees * Math.PI) / 180;
  const corner = (x: number, y: number) =>
    geographic(
      west + x * Math.cos(angle) - y * Math.sin(angle),
      south + x * Math.sin(angle) + y * Math.cos(angle),
    );
  const ring = [corner(0, 0), corner(width, 0), corner(width, length), corner(0, length), corner(0, 0)];
  const polygon = { type: 'Polygon' as const, coordinates: [ring] };
  return { id, treatment: 'A', block: '1', place: null, polygon };
}

function faults(strips: readonly Strip[]) {
  const found = layoutFaults(strips);
  for (const { code, details } of found) {
    expect(Object.keys(details)).toEqual([
      ...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES],
    ]);
  }
  return found;
}

describe('faults of a layout', () => {
  it('a field of strips side by side has none, nor has a trial without polygons', () => {
    expect(faults(trialOfStrips(6, 12, 300).strips)).toEqual([]);
    expect(faults([{ ...strip('a', 0, 0, 12, 300), polygon: null }])).toEqual([]);
  });

  it('names strips on the same ground with the area, and passes over slivers', () => {
    const [fault, ...others] = faults([strip('a', 0, 0, 12, 300), strip('b', 9, 0, 12, 300)]);
    expect(others).toEqual([]);
    expect(fault?.code).toBe('stripsOverlap');
    // By construction 3 m by 300 m; scale on this plane is true to 1e-9 here.
    expect(fault?.details.overlapM2).toBeCloseTo(900, 2);
    expect(fault?.details.sharePercent).toBeCloseTo(25, 4);
    expect(faults([strip('a', 0, 0, 12, 300), strip('b', 11.9, 0, 12, 300)])).toEqual([]);
  });

  it('names a strip that runs across the others, and strips that cross', () => {
    const laid = [0, 1, 2, 3].map((k) => strip(`s${k}`, 12 * k, 0, 12, 300));
    const found = faults([...laid, strip('odd', 60, 400, 12, 300, 60)]);
    expect(found.map(({ code, details }) => [code, details.strip])).toEqual([['stripRunsAcross', 'odd']]);
    const crossing = faults([...laid, strip('odd', 60, 100, 12, 300, 60)]);
    expect(crossing.filter(({ code }) => code === 'stripsOverlap').length).toBe(4);
  });

  it('names strips a field apart, and strips without area', () => {
    const far = faults([strip('a', 0, 0, 12, 300), strip('b', 0, 25_000, 12, 300)]);
    expect(far.map(({ code }) => code)).toEqual(['stripsFarApart']);
    expect(far[0]?.details.distanceKm).toBeCloseTo(25, 0);
    const flat = faults([strip('a', 0, 0, 12, 300), strip('b', 50, 0, 0, 300)]);
    expect(flat.map(({ code, details }) => [code, details.strip])).toEqual([['stripWithoutArea', 'b']]);
  });
});

describe('the plane of a trial', () => {
  it('has its origin amid the strips, across the 180th meridian too', () => {
    const across = trialOfStrips(4, 12, 300).strips.map((laid) => ({
      ...laid,
      polygon: {
        type: 'Polygon' as const,
        coordinates: ((laid.polygon?.coordinates ?? []) as [number, number][][]).map((ring) =>
          ring.map(([longitude, latitude]): [number, number] => {
            const moved = longitude + 159.9997;
            return [moved > 180 ? moved - 360 : moved, latitude];
          }),
        ),
      },
    }));
    const longitudes = across.flatMap(({ polygon }) => polygon.coordinates.flat().map(([x]) => x));
    expect(Math.max(...longitudes)).toBeGreaterThan(179);
    expect(Math.min(...longitudes)).toBeLessThan(-179);
    expect(Math.abs(frameOfStrips(across)?.originLongitude ?? 0)).toBeCloseTo(180, 3);
    expect(faults(across)).toEqual([]);
    expect([...placesOfStrips(across).values()]).toEqual([1, 2, 3, 4]);
  });
});

describe('places across', () => {
  it('follow the ground, not the list', () => {
    const strips = trialOfStrips(4, 12, 300).strips.toReversed();
    expect([...placesOfStrips(strips)]).toEqual([
      ['s4', 4],
      ['s3', 3],
      ['s2', 2],
      ['s1', 1],
    ]);
  });
});
