import { startPointGrid } from '../../src/geometry/point-grid.ts';
import type { PlacedPoints } from '../../src/harvest/strip-values.ts';
import { fitView } from '../../src/ui/field/field-view.ts';
import { nearestPoint } from '../../src/ui/field/nearest-point.ts';
import { paintPoints, type Raster } from '../../src/ui/field/point-raster.ts';

/**
 * Runs in a page: a full redraw of a million points beside a plain loop that fills the same image, four pixels a
 * point in one colour, no ramp, no crosses, no edges watched but the image's end. Milliseconds, best of some.
 */
const POINTS = 1_000_000;
const TIMES = 7;
const WIDTH_PX = 1100;
const HEIGHT_PX = 560;
const LENGTH_M = 2600;
const ROWS = 576;

function fieldOfPoints(): PlacedPoints {
  const place = (i: number) => ({ row: i % ROWS, along: Math.floor(i / ROWS) });
  const most = Math.floor(POINTS / ROWS);
  return {
    eastM: Float64Array.from({ length: POINTS }, (_, i) => place(i).row * 9),
    northM: Float64Array.from({ length: POINTS }, (_, i) => (place(i).along / most) * LENGTH_M),
    yieldKgPerHa: Float64Array.from({ length: POINTS }, (_, i) => 8000 + ((i * 7919) % 2000)),
    strip: new Int32Array(POINTS),
    reason: Uint8Array.from({ length: POINTS }, (_, i) => (i % 7 === 0 ? 1 : 0)),
  };
}

const points = fieldOfPoints();
const view = fitView({ westM: 0, eastM: ROWS * 9, southM: 0, northM: LENGTH_M }, WIDTH_PX, HEIGHT_PX);

function plainLoop({ words, widthPx, heightPx }: Raster): void {
  const left = widthPx / 2 - view.centreEastM * view.pxPerM;
  const top = heightPx / 2 + view.centreNorthM * view.pxPerM;
  for (let i = 0; i < POINTS; i++) {
    const x = Math.round(left + points.eastM[i]! * view.pxPerM);
    const y = Math.round(top - points.northM[i]! * view.pxPerM);
    if (x < 0 || y < 0 || x >= widthPx - 1 || y >= heightPx - 1) continue;
    const at = y * widthPx + x;
    words[at] = 0xff4a3a1f;
    words[at + 1] = 0xff4a3a1f;
    words[at + widthPx] = 0xff4a3a1f;
    words[at + widthPx + 1] = 0xff4a3a1f;
  }
}

function bestMs(fill: (raster: Raster) => void): number {
  const canvas = document.createElement('canvas');
  canvas.width = WIDTH_PX;
  canvas.height = HEIGHT_PX;
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('this browser draws on no canvas');
  let best = Number.POSITIVE_INFINITY;
  for (let time = 0; time < TIMES; time++) {
    const began = performance.now();
    const image = context.createImageData(WIDTH_PX, HEIGHT_PX);
    fill({ words: new Uint32Array(image.data.buffer), widthPx: WIDTH_PX, heightPx: HEIGHT_PX });
    context.putImageData(image, 0, 0);
    best = Math.min(best, performance.now() - began);
  }
  return best;
}

/** Pointer moves over the whole field, as far as the app reaches for a point; each way of finding sees the same. */
const REACH_M = 14 / view.pxPerM;
const MOVES = Array.from({ length: 100 }, (_, k) => ({
  eastM: ((k * 37) % 100) * 0.01 * ROWS * 9,
  northM: ((k * 61) % 100) * 0.01 * LENGTH_M,
}));

function hovers() {
  const sortSome = startPointGrid(points.eastM, points.northM);
  const beganSorting = performance.now();
  const grid = sortSome(2 * POINTS);
  const sortMs = performance.now() - beganSorting;
  if (grid === null) throw new Error('the points were not sorted');
  const moveMs = (index: typeof grid | null) => {
    const began = performance.now();
    const found = MOVES.map(({ eastM, northM }) => nearestPoint(points, index, eastM, northM, REACH_M, true));
    return { found: found.join(), ms: (performance.now() - began) / MOVES.length };
  };
  const [plain, sorted] = [moveMs(null), moveMs(grid)];
  if (plain.found !== sorted.found) throw new Error('the grid and the plain loop found other points');
  return { plainMoveMs: plain.ms, moveMs: sorted.ms, sortMs };
}

Object.assign(globalThis, {
  redraws: {
    ...hovers(),
    plainMs: bestMs(plainLoop),
    keptMs: bestMs((raster) => paintPoints(raster, points, view, 1, false)),
    allMs: bestMs((raster) => paintPoints(raster, points, view, 1, true)),
  },
});
