import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { SET_ASIDE_REASONS } from '../../src/harvest/strip-values.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import type { ExclusionArea } from '../../src/trial/exclusion-area.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import {
  AS_IT_LIES,
  geographic,
  NO_SCREENS,
  type Place,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

const STRIPS = 8;
const WIDTH_M = 12;

/** Up the middle of each strip, a point every 2 m from 1 m on, a footprint of 2 m behind each; yields differ everywhere. */
function rows(strips = STRIPS): PointRow[] {
  return Array.from({ length: strips * 150 }, (_, k) => {
    const [strip, t] = [Math.floor(k / 150), k % 150];
    return {
      eastM: strip * WIDTH_M + 6,
      northM: 1 + 2 * t,
      timeS: strip * 1000 + t,
      distanceM: 2,
      widthM: 9,
      yieldKgPerHa: 6000 + 400 * Math.sin(k / 7) + 90 * strip,
    };
  });
}

function area(
  corners: readonly (readonly [number, number])[],
  changes: Partial<ExclusionArea> = {},
  place: Place = AS_IT_LIES,
): ExclusionArea {
  const ring = [...corners, corners[0]!].map(([east, north]) => geographic(east, north, place));
  return {
    id: 'a1',
    reason: 'wetHole',
    note: '',
    strip: null,
    polygon: { type: 'Polygon', coordinates: [ring] },
    ...changes,
  };
}

const rectangle = (west: number, south: number, east: number, north: number) =>
  [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
  ] as const;

function trialWith(exclusions: ExclusionArea[], place: Place = AS_IT_LIES): TrialDocument {
  return withSettings(trialOfStrips(STRIPS, WIDTH_M, 300, place), { ...NO_SCREENS, exclusions });
}

function harvested(
  trial: TrialDocument,
  points: readonly PointRow[] = rows(),
  place: Place = AS_IT_LIES,
): PointHarvest & { codes: string[] } {
  const outcome = harvestPoints(trial, [pointsFile(points, undefined, place)]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return { ...outcome.value, codes: outcome.problems.map(({ code }) => code) };
}

const cut = ({ strips }: PointHarvest, reason: 'cutFromBlock' | 'cutFromStrip') =>
  strips.map(({ pointsSetAside }) => pointsSetAside[reason] ?? 0);
const yields = ({ strips }: PointHarvest) => strips.map(({ values }) => values.yield);

/** A corner of strip s3 alone, between 50 and 70 m along; strips s3 and s4 are block 2. */
const HOLE = rectangle(26, 50, 30, 70);

describe('an area left out', () => {
  it('cuts the stretch that it covers from every strip of the block, and from no other', () => {
    // By hand: footprints reach from 2t - 1 to 2t + 1; those with 2t + 1 > 50 and 2t - 1 < 70 are t = 25 ... 35.
    expect(cut(harvested(trialWith([area(HOLE)])), 'cutFromBlock')).toEqual([0, 0, 11, 11, 0, 0, 0, 0]);
  });

  it('whose outline crosses itself stops the harvest, and is taken by no command', () => {
    const [southWest, southEast, northEast, northWest] = HOLE;
    const bowTie = area([southWest, northEast, southEast, northWest]);
    const outcome = harvestPoints(trialWith([bowTie]), [pointsFile(rows())]);
    expect(outcome.ok).toBe(false);
    expect(outcome.problems.map(({ code, details }) => [code, details.area])).toEqual([
      ['exclusionCrossesItself', 'a1'],
    ]);
    const edited = applyCommand(trialWith([]), { name: 'addExclusion', area: bowTie });
    expect(edited.ok || edited.problems[0]?.code).toBe('exclusionCrossesItself');
    expect(applyCommand(trialWith([]), { name: 'addExclusion', area: area(HOLE) }).ok).toBe(true);
  });

  it('gives each strip the value that it has without the points of that stretch', () => {
    const left = rows().filter(({ eastM, northM }) => {
      const isBlock2 = eastM > 24 && eastM < 48;
      return !(isBlock2 && northM > 50 && northM - 2 < 70);
    });
    const bare = harvested(trialWith([]), left);
    yields(harvested(trialWith([area(HOLE)]))).forEach((value, s) => {
      expect(value).toBeCloseTo(yields(bare)[s]!, 9);
    });
  });

  it('read is kept and set aside, in each strip and in all', () => {
    const areas = [area(HOLE), area(rectangle(0, 100, 96, 130), { id: 'a2' })];
    const { strips, totals, placed } = harvested({
      ...trialWith(areas),
      harvest: { ...trialWith(areas).harvest, endMarginM: 20, turnDegrees: 20 },
    });
    for (const { pointsRead, pointsKept, pointsSetAside } of strips) {
      const aside = Object.values(pointsSetAside).reduce((sum, n) => sum + n, 0);
      expect(pointsRead).toBe(pointsKept! + aside);
    }
    expect(totals.read).toBe(rows().length);
    const reasons = new Set([...placed.reason].map((n) => SET_ASIDE_REASONS[n - 1] ?? 'kept'));
    expect(reasons).toEqual(new Set(['kept', 'cutFromBlock', 'endMargin']));
  });

  it('cuts the same wherever the field lies and however it is turned', () => {
    const straight = harvested(trialWith([area(HOLE)]));
    for (const degrees of [37, 90, 180, 251]) {
      const turn = (degrees * Math.PI) / 180;
      const place: Place = (e, n) => [
        500 + e * Math.cos(turn) - n * Math.sin(turn),
        -300 + e * Math.sin(turn) + n * Math.cos(turn),
      ];
      const turned = harvested(trialWith([area(HOLE, {}, place)], place), rows(), place);
      expect(cut(turned, 'cutFromBlock')).toEqual(cut(straight, 'cutFromBlock'));
      yields(turned).forEach((value, s) => {
        expect(Math.abs(value! / yields(straight)[s]! - 1)).toBeLessThan(1e-9);
      });
    }
  });

  it('along a side that it shares with a strip leaves that strip out', () => {
    const beside = area(rectangle(24, 50, 36, 70), { strip: 's3', note: 'crushed by a lorry' });
    expect(cut(harvested(trialWith([beside])), 'cutFromStrip')).toEqual([0, 0, 11, 0, 0, 0, 0, 0]);
    const block = area(rectangle(24, 50, 36, 70));
    expect(cut(harvested(trialWith([block])), 'cutFromBlock')).toEqual([0, 0, 11, 11, 0, 0, 0, 0]);
  });

  it('over no strip cuts nothing, and is said', () => {
    const harvest = harvested(trialWith([area(rectangle(500, 0, 520, 20))]));
    expect(harvest.codes).toContain('exclusionOnNoStrip');
    expect(yields(harvest)).toEqual(yields(harvested(trialWith([]))));
  });

  it('for single strips is held against treatments; cut from whole blocks it needs no test', () => {
    const single = (strip: number, id: string) =>
      area(rectangle(strip * 12, 50, strip * 12 + 12, 110), { id, strip: `s${strip + 1}`, note: 'seen' });
    // Every B strip loses 31 of 150 points and no A strip any: a difference without error.
    const ofB = [1, 3, 5, 7].map((strip) => single(strip, `b${strip}`));
    expect(harvested(trialWith(ofB)).codes).toContain('exclusionsByTreatment');
    const ofAll = [0, 1, 2, 3, 4, 5, 6, 7].map((strip) => single(strip, `b${strip}`));
    expect(harvested(trialWith(ofAll)).codes).not.toContain('exclusionsByTreatment');
    expect(harvested(trialWith([area(HOLE)])).codes).not.toContain('exclusionsByTreatment');
  });

  it('stands in every variant of the cleaning', () => {
    const trial = trialWith([area(HOLE)]);
    const under = harvestVariants(trial, [pointsFile(rows())])!(trial.harvest);
    expect(under).toEqual(yields(harvested(trial)));
  });
});
