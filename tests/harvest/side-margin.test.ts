import { describe, expect, it } from 'vitest';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { sideMarginOf, stripGrounds } from '../../src/harvest/strip-ground.ts';
import {
  FRAME,
  NO_SCREENS,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

/** The rule as issue and practice state it: the smaller of the chosen one and (strip width - header) / 2, never below 0. */
describe('the side margin', () => {
  const [strip] = stripGrounds(trialOfStrips(1, 12, 300).strips, FRAME);
  const margin = (sideMarginM: number, headerM: number | null) =>
    sideMarginOf(strip!, { ...NO_SCREENS, sideMarginM }, headerM);

  it.each([
    [1, 6, 1],
    [1, 11, 0.5],
    [3, 9, 1.5],
    [0, 9, 0],
    [1, 12, 0],
    [1, 12.5, 0],
    [1, 24, 0],
    [1, null, 1],
  ])('of %s m with a header of %s m in a strip of 12 m is %s m', (chosen, headerM, expected) => {
    expect(margin(chosen, headerM)).toBeCloseTo(expected, 6);
  });

  it('is none where the header is wider than the strip: its passes are not made to fit by a wider strip', () => {
    const pass: PointRow[] = Array.from({ length: 100 }, (_, t) => ({
      eastM: 6,
      northM: 50 + 2 * t,
      timeS: t,
      distanceM: 2,
      widthM: 14,
      yieldKgPerHa: 7000 + 50 * Math.sin(2.3 * t),
    }));
    const trial = withSettings(trialOfStrips(2, 12, 300), { sideMarginM: 1 });
    const outcome = harvestPoints(trial, [pointsFile(pass)]);
    const said = outcome.problems.find(({ code }) => code === 'noPassFits');
    expect(said?.details.insidePercent).toBeCloseTo((100 * 12) / 14, 3);
  });
});
