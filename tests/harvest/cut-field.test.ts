import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { numberedField } from '../../src/harvest/numbered-field.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import { cutPlaces, numbersAfter, type PassCut, renumberedLists } from '../../src/trial/pass-cuts.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import {
  geographic,
  NO_SCREENS,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';
import { serpentineTrack } from './serpentine.ts';

/** Four passes through two tiers of strips, 300 m each; the crop of the northern tier yields 2 t/ha more. */
const ROWS: PointRow[] = serpentineTrack([4.5, 13.5, 22.5, 31.5], {
  lengthM: 600,
  headlandM: 16,
  stepM: 2,
}).map((point) => ({
  ...point,
  yieldKgPerHa: 6000 + (point.northM > 300 ? 2000 : 0) + 40 * point.eastM,
  distanceM: 2,
  widthM: 9,
}));
const FILE = pointsFile(ROWS);

function cutAt(eastM: number, northM: number, every: boolean): PassCut {
  const [longitude, latitude] = geographic(eastM, northM);
  return { longitude, latitude, every };
}

/** Between two points of every pass. */
const AT_THE_BORDER = cutAt(18, 301, true);

function harvestOf(passes: readonly (readonly number[])[], cuts: readonly PassCut[]): PointHarvest {
  const trial = withSettings(trialOfStrips(passes.length, 9, 300), NO_SCREENS);
  const strips = trial.strips.map((strip, k) => ({ ...strip, polygon: null, passes: [...passes[k]!] }));
  const outcome = harvestPoints({ ...trial, strips, passCuts: [...cuts] }, [FILE]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function kept(harvest: PointHarvest): { areaM2: number; massKg: number }[] {
  return harvest.strips.map(({ values, harvestedAreaM2 }) => ({
    areaM2: harvestedAreaM2 ?? 0,
    massKg: ((harvestedAreaM2 ?? 0) * (values.yield ?? 0)) / 10_000,
  }));
}

describe('passes cut where they run through two tiers', () => {
  it('are numbered in field order, the southern piece first, and hold what lies on their side', () => {
    const harvest = harvestOf([[1], [2], [5], [6]], [AT_THE_BORDER]);
    expect(harvest.assumptions).toContainEqual({ code: 'passesCut', details: { cuts: 4 } });
    const south = [0, 2];
    harvest.strips.forEach(({ values }, k) => {
      const eastM = k < 2 ? 4.5 : 22.5;
      const expected = 6000 + 40 * eastM + (south.includes(k) ? 0 : 2000);
      expect(values.yield).toBeCloseTo(expected, 6);
    });
    expect(harvest.factsOfPoint(ROWS.findIndex(({ northM }) => northM > 400))?.pass).toEqual({
      number: 2,
      counted: 'acrossField',
    });
  });

  // Law: a cut adds and removes nothing.
  it('have together the ground and the mass of the whole ones', () => {
    const [whole] = kept(harvestOf([[1, 2, 3, 4]], []));
    const halves = kept(
      harvestOf(
        [
          [1, 3, 5, 7],
          [2, 4, 6, 8],
        ],
        [AT_THE_BORDER],
      ),
    );
    for (const key of ['areaM2', 'massKg'] as const)
      expect(Math.abs((halves[0]![key] + halves[1]![key]) / whole![key] - 1)).toBeLessThan(1e-12);
  });

  it('are cut one alone too, whatever the order of the cuts, and not where too little would be left', () => {
    const one = cutAt(14, 200, false);
    const forth = kept(harvestOf([[2], [3, 4]], [one, cutAt(4, 450, false)]));
    expect(kept(harvestOf([[2], [3, 4]], [cutAt(4, 450, false), one]))).toEqual(forth);
    const idle = harvestPoints(
      {
        ...trialOfStrips(1, 9, 300),
        strips: [{ ...trialOfStrips(1, 9, 300).strips[0]!, polygon: null, passes: [1] }],
        passCuts: [cutAt(18, 590, true), one],
      },
      [FILE],
    );
    expect(idle.problems.find(({ code }) => code === 'passCutOnNoPass')?.details).toMatchObject({ count: 1 });
  });
});

describe('numbers after a cut', () => {
  const whole = [4.5, 13.5, 22.5].map((acrossM) => ({ fromM: 0, toM: 600, acrossM }));
  const uncut = cutPlaces(whole, []);
  const tiers = cutPlaces(whole, [{ alongM: 300, acrossM: 0, every: true }]);

  it('follow the ground, and are as before once the cut is taken back (law)', () => {
    const becomes = numbersAfter(whole, uncut, tiers);
    expect(becomes).toEqual([
      [1, 2],
      [3, 4],
      [5, 6],
    ]);
    const lists = [[1], [3]];
    const there = renumberedLists(lists, becomes);
    expect(there).toEqual([
      [1, 2],
      [5, 6],
    ]);
    expect(renumberedLists(there, numbersAfter(whole, tiers, uncut))).toEqual(lists);
    // A whole pass whose pieces belonged to two strips belongs to neither.
    expect(renumberedLists([[1], [2, 5, 6]], numbersAfter(whole, tiers, uncut))).toEqual([[], [3]]);
  });

  it('are kept in the document with the cuts, the stamp by the same ground', () => {
    const field = numberedField([FILE]);
    if (!field.ok) throw new Error(JSON.stringify(field.problems));
    const { numbering } = field.value;
    const trial = trialOfStrips(2, 9, 300);
    const strips = trial.strips.map((strip, k) => ({ ...strip, polygon: null, passes: [k + 1] }));
    const stamped: TrialDocument = {
      ...trial,
      strips,
      passNumbering: numbering,
      stamp: {
        at: '2026-09-01T10:00:00.000Z',
        inference: trial.inference,
        harvest: trial.harvest,
        passes: strips.map(({ id, passes }) => ({ id, passes: passes.join() })),
      },
    };
    const becomes = [
      [1, 2],
      [3, 4],
      [5, 6],
      [7, 8],
    ];
    const cut = applyCommand(stamped, {
      name: 'cutPasses',
      cuts: [AT_THE_BORDER],
      becomes,
      numbering: { ...numbering, count: 8 },
    });
    if (!cut.ok) throw new Error(JSON.stringify(cut.problems));
    expect(cut.value.strips.map(({ passes }) => passes)).toEqual([
      [1, 2],
      [3, 4],
    ]);
    expect(cut.value.stamp?.passes?.map(({ passes }) => passes)).toEqual(['1-2', '3-4']);
    expect(cut.value.passCuts).toEqual([AT_THE_BORDER]);
    expect(harvestPoints(cut.value, [{ ...FILE, file: numbering.files[0]! }]).ok).toBe(true);
  });
});
