import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { localProjection } from '../../src/geometry/local-projection.ts';

const ORIGINS = [
  { originLongitude: 9.2, originLatitude: 48.7 },
  { originLongitude: -93.4, originLatitude: 42.1 },
  { originLongitude: 147.3, originLatitude: -35.1 },
  { originLongitude: -56.2, originLatitude: -0.4 },
  { originLongitude: 25.1, originLatitude: 68.9 },
  { originLongitude: 179.9, originLatitude: 12 },
];

/** The oracle: proj4 2.22.0, transverse Mercator on WGS 84 (its Poder-Engsager series). */
function oracle(frame: (typeof ORIGINS)[number]) {
  const definition = `+proj=etmerc +lat_0=${frame.originLatitude} +lon_0=${frame.originLongitude} +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m +no_defs`;
  return proj4('+proj=longlat +ellps=WGS84 +no_defs', definition);
}

describe('local projection', () => {
  for (const frame of ORIGINS) {
    const at = `${frame.originLongitude}, ${frame.originLatitude}`;
    const projection = localProjection(frame);
    const reference = oracle(frame);
    const offsets = [-200_000, -61_803, -1234.5, 0, 17, 98_765.4, 200_000];

    it(`agrees with proj4 to a micrometre within 200 km of ${at}`, () => {
      for (const east of offsets) {
        for (const north of offsets) {
          const [longitude, latitude] = reference.inverse([east, north]) as [number, number];
          const expected = reference.forward([longitude, latitude]) as [number, number];
          const [gotEast, gotNorth] = projection.toLocal(longitude, latitude);
          expect(Math.abs(gotEast - expected[0])).toBeLessThan(1e-6);
          expect(Math.abs(gotNorth - expected[1])).toBeLessThan(1e-6);
        }
      }
    });

    it(`agrees with proj4 to ten nanometres on a farm, ${at}`, () => {
      for (const away of [3, 800, 12_000, 25_000, 45_000]) {
        for (let turn = 0; turn < 16; turn++) {
          const place = [away * Math.sin(turn), away * Math.cos(turn)] as [number, number];
          const [longitude, latitude] = reference.inverse(place) as [number, number];
          const expected = reference.forward([longitude, latitude]) as [number, number];
          const [gotEast, gotNorth] = projection.toLocal(longitude, latitude);
          expect(Math.hypot(gotEast - expected[0], gotNorth - expected[1])).toBeLessThan(1e-8);
        }
      }
    });

    it(`does not break where the series about its origin ends, ${at}`, () => {
      for (let metres = 40_000; metres < 120_000; metres += 500) {
        for (const place of [
          [metres, 0],
          [0, -metres],
        ] as const) {
          const [longitude, latitude] = reference.inverse([...place]) as [number, number];
          const [gotEast, gotNorth] = projection.toLocal(longitude, latitude);
          expect(Math.hypot(gotEast - place[0], gotNorth - place[1])).toBeLessThan(1e-7);
        }
      }
    });

    it(`agrees with proj4 on the way back, ${at}`, () => {
      const metresPerDegree = 111_320;
      for (const east of offsets) {
        for (const north of offsets) {
          const [longitude, latitude] = projection.toGeographic(east, north);
          const [expectedLongitude, expectedLatitude] = reference.inverse([east, north]) as [number, number];
          expect(Math.abs(latitude - expectedLatitude) * metresPerDegree).toBeLessThan(1e-7);
          const shrink = Math.cos((latitude * Math.PI) / 180);
          const turn =
            longitude - expectedLongitude - 360 * Math.round((longitude - expectedLongitude) / 360);
          expect(Math.abs(turn) * shrink * metresPerDegree).toBeLessThan(1e-7);
        }
      }
    });

    it(`returns to where it came from, ${at}`, () => {
      for (const east of offsets) {
        for (const north of offsets) {
          const [backEast, backNorth] = projection.toLocal(...projection.toGeographic(east, north));
          expect(Math.hypot(backEast - east, backNorth - north)).toBeLessThan(1e-6);
        }
      }
    });
  }

  it('puts the origin at nought and north up', () => {
    const projection = localProjection({ originLongitude: 9.2, originLatitude: 48.7 });
    expect(projection.toLocal(9.2, 48.7)).toEqual([0, 0]);
    const [east, north] = projection.toLocal(9.2, 48.71);
    expect(east).toBe(0);
    expect(north).toBeGreaterThan(1100);
  });

  it('has no image of what is not a position, or lies a quarter turn away', () => {
    const projection = localProjection({ originLongitude: 0, originLatitude: 0 });
    for (const [longitude, latitude] of [
      [90, 0],
      [-135, 10],
      [Number.NaN, 0],
      [0, Number.NaN],
      [0, 91],
    ] as const) {
      expect(projection.toLocal(longitude, latitude)).toEqual([Number.NaN, Number.NaN]);
    }
  });
});
