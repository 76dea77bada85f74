import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import type { HarvestFile, TrialDocument } from '../../src/trial/trial-document.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import {
  ALREADY_STANDARD,
  NO_SCREENS,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

/** Laws: what holds for one file alone gives what the same would give if the trial had no other file. */
const WET = { ...ALREADY_STANDARD, moistureBasis: 'wet' as const };
const ground = (m: number) => 6000 + 900 * Math.sin(m / 17) + 300 * Math.sin(m / 5);

/** Up the middle of a strip, a point each second; flow and moisture reach the sensor so many seconds late. */
function pass(strip: number, flowLateS: number, moistureLateS: number): PointRow[] {
  return Array.from({ length: 140 }, (_, t) => ({
    eastM: strip * 12 + 6,
    northM: 5 + 2 * t,
    timeS: strip * 1000 + t,
    distanceM: 2,
    widthM: 9,
    yieldKgPerHa: ground(2 * (t - flowLateS)) + 100 * strip,
    moisturePercent: 15 + 3 * Math.sin((t - moistureLateS) / 9),
  }));
}

const file = (name: string, rows: readonly PointRow[]) => ({ ...pointsFile(rows, WET), file: name });
const asked = (path: string, changes: Partial<HarvestFile> = {}): HarvestFile => ({
  path,
  kind: 'points',
  columns: {},
  yieldColumns: [],
  ...changes,
});
const trialWith = (...harvestFiles: HarvestFile[]): TrialDocument => ({
  // Far enough from the ends that a shift leaves no gap.
  ...withSettings(trialOfStrips(4, 12, 300), { ...NO_SCREENS, endMarginM: 40 }),
  harvestFiles,
});
function unwrap(outcome: ReturnType<typeof harvestPoints>): PointHarvest {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}
const valuesOf = ({ strips }: PointHarvest, response: string) =>
  strips.map(({ values }) => values[response]!);

const TWO = [...pass(0, 0, 0), ...pass(1, 0, 0)];
const REFERENCE = unwrap(
  harvestPoints(trialWith(), [file('a', TWO), file('b', [...pass(2, 0, 0), ...pass(3, 0, 0)])]),
);

describe('two combines', () => {
  it.each([
    ['each with its own lag', 4, 4, { shiftLagS: 4 }],
    ['flow and moisture late by their own', 4, 9, { shiftLagS: 4, shiftMoistureS: 9 }],
    ['moisture alone late', 0, 6, { shiftMoistureS: 6 }],
    ['shifted too far before', -3, -3, { shiftLagS: -3 }],
  ] as const)('%s: the values are those of files without lag', (_, flowS, moistureS, own) => {
    const late = file('b', [...pass(2, flowS, moistureS), ...pass(3, flowS, moistureS)]);
    const harvest = unwrap(harvestPoints(trialWith(asked('a'), asked('b', own)), [file('a', TWO), late]));
    for (const response of ['yield', 'moisture'])
      valuesOf(harvest, response).forEach((value, s) => {
        expect(value).toBeCloseTo(valuesOf(REFERENCE, response)[s]!, 7);
      });
    const said = harvest.assumptions.filter(({ code }) => ['lagShifted', 'shiftedApart'].includes(code));
    expect(said.map(({ details }) => details.file)).toEqual(['b']);
  });

  it('a file’s own zero goes before the shift of the trial', () => {
    const trial = withSettings(trialWith(asked('a', { shiftLagS: 0 }), asked('b')), { shiftLagS: 5 });
    const late = file('b', [...pass(2, 5, 5), ...pass(3, 5, 5)]);
    const harvest = unwrap(harvestPoints(trial, [file('a', TWO), late]));
    valuesOf(harvest, 'yield').forEach((value, s) => {
      expect(value).toBeCloseTo(valuesOf(REFERENCE, 'yield')[s]!, 7);
    });
  });

  it('a factor multiplies the strips of its file and no others; moisture stays', () => {
    const b = file('b', [...pass(2, 0, 0), ...pass(3, 0, 0)]);
    const trial = trialWith(
      asked('a'),
      asked('b', { calibrationFactor: 1.08, calibrationFrom: 'a weighed load' }),
    );
    const harvest = unwrap(harvestPoints(trial, [file('a', TWO), b]));
    valuesOf(harvest, 'yield').forEach((value, s) => {
      expect(value / valuesOf(REFERENCE, 'yield')[s]!).toBeCloseTo(s < 2 ? 1 : 1.08, 12);
    });
    valuesOf(harvest, 'moisture').forEach((value, s) => {
      expect(value).toBeCloseTo(valuesOf(REFERENCE, 'moisture')[s]!, 12);
    });
    expect(harvest.assumptions.find(({ code }) => code === 'calibrated')?.details).toEqual({
      file: 'b',
      factor: 1.08,
      from: 'a weighed load',
    });
  });

  it('a shift that needs a time the file has not is said of that file alone', () => {
    const untimed = [...pass(2, 0, 0), ...pass(3, 0, 0)].map(({ timeS: _, ...row }) => row);
    const trial = trialWith(asked('a'), asked('b', { shiftMoistureS: 3 }));
    const outcome = harvestPoints(trial, [file('a', TWO), file('b', untimed)]);
    const said = outcome.problems.filter(({ code }) => code === 'shiftNeedsTime');
    expect(said.map((one) => [one.file, one.details.shiftLagS])).toEqual([['b', 3]]);
  });

  it('other lags are tried around each file’s own', () => {
    const random = seededRandom(71);
    const files = [file('a', TWO), file('b', [...pass(2, 4, 6), ...pass(3, 4, 6)])];
    for (let n = 0; n < 5; n++) {
      const movedS = random.between(-2, 2);
      const own = { shiftLagS: random.between(0, 5), shiftMoistureS: random.between(0, 5) };
      const trial = trialWith(asked('a'), asked('b', own));
      const moved = withSettings(
        trialWith(
          asked('a'),
          asked('b', { shiftLagS: own.shiftLagS + movedS, shiftMoistureS: own.shiftMoistureS + movedS }),
        ),
        { shiftLagS: movedS },
      );
      const under = harvestVariants(trial, files)!({ ...trial.harvest, shiftLagS: movedS });
      const expected = valuesOf(unwrap(harvestPoints(moved, files)), 'yield');
      under.forEach((value, s) => {
        expect(value).toBeCloseTo(expected[s]!, 9);
      });
    }
  });
});
