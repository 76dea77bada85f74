import { describe, expect, it } from 'vitest';
import { localProjection } from '../../src/geometry/local-projection.ts';
import { movedPosition } from '../../src/geometry/plane-move.ts';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { pinOf, trialAsItLies } from '../../src/trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../src/trial/layout-move-schema.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { simulateHarvest } from '../simulator/combine-simulator.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { simulateField } from '../simulator/simulated-field.ts';
import { geographic, pointsFile, trialOfStrips } from './field-of-strips.ts';

const PLANNED = trialOfStrips(6, 12, 300);
const MACHINE = {
  headerM: 9,
  speedMPerS: 1.8,
  speedWanderShare: 0.06,
  lagS: 10,
  mixingS: 2,
  lagTakenOutS: 10,
  driftM: 0.2,
  jitterM: 0.05,
  flowNoiseShare: 0.04,
  moistureNoisePercent: 0.15,
  recordedWidth: 'header' as const,
  faults: {
    slowdownsPerPass: 0.4,
    stopsPerPass: 0.2,
    liftsPerPass: 0.2,
    turnsWithHeaderDownShare: 0.3,
    flowSpikeShare: 0.003,
    moistureSpikeShare: 0.002,
  },
};

function driven(): HarvestPointsInput {
  const random = seededRandom(71);
  const field = simulateField(
    {
      stripWidthM: 12,
      stripLengthM: 300,
      yieldKgPerHa: [6000, 6700, 6100, 6900, 6200, 6600],
      moisturePercent: [15, 16, 15, 16, 15, 16],
      standardMoisturePercent: 15,
      patchShare: 0.05,
    },
    random,
  );
  const middles = Array.from({ length: 6 }, (_, s) => 12 * s + 6);
  return pointsFile(simulateHarvest(field, MACHINE, middles, random).rows);
}

/** Every point moved as the layout is; headings that were recorded turn with it. */
function movedPoints(
  file: HarvestPointsInput,
  { strips }: TrialDocument,
  move: LayoutMove,
): HarvestPointsInput {
  const pin = pinOf(strips)!;
  const { toLocal, toGeographic } = localProjection({
    originLongitude: pin.longitude,
    originLatitude: pin.latitude,
  });
  const places = Array.from(file.longitude, (longitude, i) =>
    toGeographic(
      ...movedPosition({ ...move, axisDegrees: pin.axisDegrees }, toLocal(longitude, file.latitude[i]!)),
    ),
  );
  return {
    ...file,
    longitude: Float64Array.from(places, ([longitude]) => longitude),
    latitude: Float64Array.from(places, ([, latitude]) => latitude),
    headingDegrees: null,
  };
}

function stripValues(trial: TrialDocument, file: HarvestPointsInput): number[] {
  const outcome = harvestPoints(trialAsItLies(trial), [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value.strips.map(({ values }) => values.yield!);
}

const file = { ...driven(), headingDegrees: null };
const STILL = {
  eastM: 0,
  northM: 0,
  turnDegrees: 0,
  mirrored: false,
  renumbered: false,
  how: 'byHand',
} as const;

describe('a layout and its points moved together', () => {
  it.each([
    { ...STILL, eastM: 31, northM: -12.5 },
    { ...STILL, turnDegrees: 37 },
    { ...STILL, eastM: -4, northM: 80, turnDegrees: -123.4, mirrored: true },
  ])('give the same strip values, within 1e-9 (an algebraic law): %o', (layoutMove) => {
    const values = stripValues(PLANNED, file);
    const moved = stripValues({ ...PLANNED, layoutMove }, movedPoints(file, PLANNED, layoutMove));
    moved.forEach((value, i) => {
      expect(Math.abs(value / values[i]! - 1)).toBeLessThan(1e-9);
    });
  });

  it('moved apart do not: the points of a strip then count to the strip beside it', () => {
    const values = stripValues(PLANNED, file);
    const moved = stripValues({ ...PLANNED, layoutMove: { ...STILL, eastM: 12 } }, file);
    for (const s of [0, 1, 2, 3, 4]) expect(moved[s]! / values[s + 1]!).toBeCloseTo(1, 3);
  });

  it('leave an area left out by hand where it was drawn', () => {
    const corner = (east: number, north: number) => geographic(east, north);
    const ring = [corner(-5, 100), corner(80, 100), corner(80, 140), corner(-5, 140), corner(-5, 100)];
    const area = {
      id: '1',
      reason: 'hail' as const,
      note: '',
      strip: null,
      polygon: { type: 'Polygon' as const, coordinates: [ring] },
    };
    const cut = { ...PLANNED, harvest: { ...PLANNED.harvest, exclusions: [area] } };
    const kept = (trial: TrialDocument) => {
      const outcome = harvestPoints(trialAsItLies(trial), [file]);
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const { northM, reason } = outcome.value.placed;
      const { toGeographic } = localProjection(outcome.value.frame);
      return Array.from(northM, (north, i) => ({ i, north: toGeographic(0, north)[1] })).filter(
        ({ i, north }) => reason[i] === 0 && north > ring[0]![1] + 3e-5 && north < ring[2]![1] - 3e-5,
      ).length;
    };
    expect(kept(PLANNED)).toBeGreaterThan(50);
    expect(kept(cut)).toBe(0);
    expect(kept({ ...cut, layoutMove: { ...STILL, northM: 15 } })).toBe(0);
  });

  it('numbered from the other edge: each strip has what the one opposite had', () => {
    const values = stripValues(PLANNED, file);
    const renumbered = stripValues({ ...PLANNED, layoutMove: { ...STILL, renumbered: true } }, file);
    expect(renumbered).toEqual(values.toReversed());
  });
});
