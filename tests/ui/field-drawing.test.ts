import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointGrid } from '../../src/geometry/point-grid.ts';
import { type PlacedPoints, SET_ASIDE_REASONS } from '../../src/harvest/strip-values.ts';
import { fitView, toGround, toPx, zoomAt } from '../../src/ui/field/field-view.ts';
import { nearestPoint, neighbourInFile } from '../../src/ui/field/nearest-point.ts';
import { paintPoints, startPainting } from '../../src/ui/field/point-raster.ts';
import { REASONS } from '../../src/ui/field/set-aside-reasons.ts';
import { stripNamePlace } from '../../src/ui/field/strip-name-place.ts';

const BOUNDS = { westM: -100, eastM: 100, southM: -50, northM: 50 };
const VIEW = fitView(BOUNDS, 800, 400);

function points(
  ...list: readonly (readonly [eastM: number, northM: number, reason: number])[]
): PlacedPoints {
  return {
    eastM: Float64Array.from(list, ([eastM]) => eastM),
    northM: Float64Array.from(list, ([, northM]) => northM),
    yieldKgPerHa: Float64Array.from(list, (_, index) => 8000 + index),
    strip: new Int32Array(list.length),
    reason: Uint8Array.from(list, ([, , reason]) => reason),
  };
}

function paintedPixels(drawn: PlacedPoints, showSetAside: boolean): Set<string> {
  const raster = { words: new Uint32Array(800 * 400), widthPx: 800, heightPx: 400 };
  paintPoints(raster, drawn, VIEW, 1, showSetAside);
  const painted = new Set<string>();
  raster.words.forEach((word, index) => {
    if (word !== 0) painted.add(`${index % 800},${Math.floor(index / 800)}`);
  });
  return painted;
}

describe('the view of the field', () => {
  it('goes to pixels and back (law: one is the inverse of the other)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -500, max: 500, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        (east, north) => {
          const [eastAgain, northAgain] = toGround(VIEW, ...toPx(VIEW, east, north));
          expect(eastAgain).toBeCloseTo(east, 8);
          expect(northAgain).toBeCloseTo(north, 8);
        },
      ),
      { seed: 20260801 },
    );
  });

  it('keeps the ground under the pointer in its place when one looks closer', () => {
    const before = toGround(VIEW, 130, 290);
    const after = toGround(zoomAt(VIEW, 1.6, 130, 290), 130, 290);
    expect(after[0]).toBeCloseTo(before[0], 9);
    expect(after[1]).toBeCloseTo(before[1], 9);
  });

  it('holds the whole field, north up', () => {
    const [left, top] = toPx(VIEW, BOUNDS.westM, BOUNDS.northM);
    const [right, bottom] = toPx(VIEW, BOUNDS.eastM, BOUNDS.southM);
    expect(left).toBeGreaterThanOrEqual(0);
    expect(top).toBeGreaterThanOrEqual(0);
    expect(right).toBeLessThanOrEqual(800);
    expect(bottom).toBeLessThanOrEqual(400);
    expect(bottom).toBeGreaterThan(top);
  });

  it('keeps the code of a long strip in sight when one looks at its end', () => {
    const strip = [
      [-5, -2000],
      [5, -2000],
      [5, 2000],
      [-5, 2000],
      [-5, -2000],
    ] as const;
    const view = { ...VIEW, centreNorthM: 1700 };
    const [, y] = stripNamePlace(strip, view) ?? [0, -1];
    expect(y).toBeGreaterThanOrEqual(0);
    expect(y).toBeLessThanOrEqual(view.heightPx);
  });
});

describe('points on the field', () => {
  it('draws a kept point and one set aside as different forms at the same place', () => {
    const kept = paintedPixels(points([0, 0, 0]), true);
    const setAside = paintedPixels(points([0, 0, 1]), true);
    expect(kept.size).toBeGreaterThan(0);
    expect(setAside.size).toBeGreaterThan(0);
    expect([...setAside].sort()).not.toEqual([...kept].sort());
  });

  it('leaves out what was set aside when asked to, and nothing else', () => {
    const both = points([0, 0, 0], [60, 20, 4]);
    expect(paintedPixels(both, false)).toEqual(paintedPixels(points([0, 0, 0]), true));
  });

  it('paints nothing outside the picture', () => {
    expect(paintedPixels(points([5000, 5000, 0], [-5000, 0, 1]), true).size).toBe(0);
  });

  it('finds the nearest point (law: none other is nearer), and none beyond its reach', () => {
    const drawn = points([0, 0, 0], [10, 0, 0], [3, 4, 2]);
    for (const grid of [null, pointGrid(drawn.eastM, drawn.northM)]) {
      expect(nearestPoint(drawn, grid, 4, 4, 10, true)).toBe(2);
      expect(nearestPoint(drawn, grid, 4, 4, 10, false)).toBe(0);
      expect(nearestPoint(drawn, grid, 90, 40, 10, true)).toBe(-1);
    }
  });

  it('steps through points in file order and round again', () => {
    const drawn = points([0, 0, 0], [1, 0, 5], [2, 0, 0]);
    const any = () => true;
    expect(neighbourInFile(drawn, -1, 1, any)).toBe(0);
    expect(neighbourInFile(drawn, 2, 1, any)).toBe(0);
    expect(neighbourInFile(drawn, 0, -1, any)).toBe(2);
    expect(neighbourInFile(drawn, 0, 1, (reason) => reason === 0)).toBe(2);
    expect(neighbourInFile(drawn, 0, 1, (reason) => reason === 9)).toBe(-1);
  });

  it('names reasons in the order in which harvest numbers them', () => {
    expect(REASONS).toEqual(SET_ASIDE_REASONS);
  });
});

describe('painting some points at a time', () => {
  it('comes to the same picture (law), at the edge and on dense screens too', () => {
    const place = fc.tuple(
      fc.double({ min: -130, max: 130, noNaN: true }),
      fc.double({ min: -80, max: 80, noNaN: true }),
      fc.integer({ min: 0, max: 3 }),
    );
    fc.assert(
      fc.property(
        fc.array(place, { maxLength: 60 }),
        fc.integer({ min: 1, max: 9 }),
        fc.boolean(),
        fc.constantFrom(1, 2),
        (list, some, showSetAside, pxRatio) => {
          const size = { widthPx: 800 * pxRatio, heightPx: 400 * pxRatio };
          const raster = () => ({ ...size, words: new Uint32Array(size.widthPx * size.heightPx) });
          const [whole, pieces] = [raster(), raster()];
          paintPoints(whole, points(...list), VIEW, pxRatio, showSetAside);
          const paintSome = startPainting(pieces, points(...list), VIEW, pxRatio, showSetAside);
          let turns = 1;
          while (!paintSome(some)) turns += 1;
          expect(turns).toBe(Math.max(1, Math.ceil(((showSetAside ? 2 : 1) * list.length) / some)));
          expect(Buffer.compare(Buffer.from(pieces.words.buffer), Buffer.from(whole.words.buffer))).toBe(0);
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });
});
