import { expect, it } from 'vitest';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import {
  AS_IT_LIES,
  NO_SCREENS,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

/** One pass north in the middle of the first strip, one back south 4 m into the second; a header of 9 m, 2 m a second. */
function twoPasses(): PointRow[] {
  const up = Array.from({ length: 150 }, (_, t) => ({ eastM: 6, northM: 2 * t, timeS: t }));
  const down = Array.from({ length: 150 }, (_, t) => ({ eastM: 16, northM: 298 - 2 * t, timeS: 600 + t }));
  return [...up, ...down].map((row) => ({ ...row, yieldKgPerHa: 5000, distanceM: 2, widthM: 9 }));
}

it('tells of a point its pass, its way and the share of its footprint inside the strip, in any order of rows', () => {
  const rows = twoPasses();
  const trial = withSettings(trialOfStrips(2, 12, 300, AS_IT_LIES), { ...NO_SCREENS, sideMarginM: 1 });
  for (const isBackwards of [false, true]) {
    const inFile = isBackwards ? [...rows].reverse() : rows;
    const outcome = harvestPoints(trial, [pointsFile(inFile), pointsFile(inFile)]);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const { factsOfPoint, passOfPoint } = outcome.value;
    const passes = passOfPoint();
    const [up, down] = isBackwards ? [229, 79] : [70, 220];
    for (const point of [up, down]) expect(factsOfPoint(point)?.pass?.number).toBe(passes[point]);
    expect(factsOfPoint(up)).toMatchObject({
      pointOfFile: up + 1,
      timeS: 70,
      widthM: 9,
      moisturePercent: null,
    });
    expect(factsOfPoint(up)?.headingDegrees).toBeCloseTo(0, 3);
    expect(factsOfPoint(up)?.shareInside).toBeCloseTo(1, 9);
    expect(Math.abs(factsOfPoint(down)?.headingDegrees ?? 0)).toBeCloseTo(180, 3);
    // The strip lies from 12 to 24 m, less 1 m a side; the header reached from 11.5 to 20.5 m.
    expect(factsOfPoint(down)?.shareInside).toBeCloseTo(7.5 / 9, 3);
    expect(factsOfPoint(down)?.passShareInside).toBeCloseTo(7.5 / 9, 3);
    // The second file's points go on from the first's.
    expect(factsOfPoint(rows.length + up)?.pointOfFile).toBe(up + 1);
    expect(factsOfPoint(2 * rows.length)).toBe(null);
  }
});
