import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { REASON_NUMBER } from '../../src/harvest/point-screens.ts';
import type { HarvestSettings } from '../../src/trial/trial-document.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { NO_SCREENS, type PointRow, pointsFile, trialOfStrips, withSettings } from './field-of-strips.ts';

/** Strips of 24 m, a header of 8 m, three passes up each strip, a point every 2 m. */
const WIDTH_M = 24;
const STRIPS = 3;
const PASSES = 3;
const POINTS = 140;

type YieldAt = (strip: number, pass: number, t: number) => number;

function rowsOf(yieldAt: YieldAt): PointRow[] {
  return Array.from({ length: STRIPS * PASSES * POINTS }, (_, k) => {
    const [strip, pass, t] = [Math.floor(k / (PASSES * POINTS)), Math.floor(k / POINTS) % PASSES, k % POINTS];
    const isBack = pass % 2 === 1;
    return {
      eastM: strip * WIDTH_M + 4 + 8 * pass,
      northM: isBack ? 295 - 2 * t : 5 + 2 * t,
      timeS: 1000 * (strip * PASSES + pass) + t,
      distanceM: 2,
      widthM: 8,
      yieldKgPerHa: yieldAt(strip, pass, t),
    };
  });
}

const TRIAL = (settings: Partial<HarvestSettings> = {}) =>
  withSettings(trialOfStrips(STRIPS, WIDTH_M, 300), { ...NO_SCREENS, outlierRobustSd: 3, ...settings });

function reasonsOf(rows: readonly PointRow[], settings: Partial<HarvestSettings> = {}): Uint8Array {
  const outcome = harvestPoints(TRIAL(settings), [pointsFile(rows)]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value.placed.reason;
}

const placesOf = (reasons: Uint8Array) =>
  [...reasons].flatMap((reason, i) => (reason === REASON_NUMBER.outlier ? [i] : []));
/** Ground that varies along the strip alike in its passes, and a little noise that repeats nowhere. */
const noise = seededRandom(88);
const DRAWN = Float64Array.from({ length: STRIPS * PASSES * POINTS }, () => 120 * noise.normal());
const plain: YieldAt = (strip, pass, t) => {
  const north = pass % 2 === 1 ? 295 - 2 * t : 5 + 2 * t;
  return 7000 + 900 * strip + 500 * Math.sin(north / 40) + DRAWN[(strip * PASSES + pass) * POINTS + t]!;
};
const placeOf = (strip: number, pass: number, t: number) => (strip * PASSES + pass) * POINTS + t;
/** Twenty points one after the other, too many for a running median of eleven to see. */
const isBlocked = (strip: number, pass: number, t: number) => strip === 1 && pass === 1 && t >= 60 && t < 80;

describe('yields beside those of neighbouring passes', () => {
  it('a stretch that reads low beside the passes next to it is set aside; its own pass would not tell', () => {
    const rows = rowsOf((s, p, t) => plain(s, p, t) - (isBlocked(s, p, t) ? 2500 : 0));
    const found = placesOf(reasonsOf(rows));
    const alone = placesOf(reasonsOf(rows, { acrossScreen: false }));
    const middle = Array.from({ length: 12 }, (_, k) => placeOf(1, 1, 64 + k));
    expect(middle.every((place) => found.includes(place))).toBe(true);
    expect(middle.some((place) => alone.includes(place))).toBe(false);
    // Neither the passes beside it nor the rest lose more than the running median takes of normal points.
    const others = (places: readonly number[]) =>
      places.filter((place) => place < placeOf(1, 1, 55) || place >= placeOf(1, 1, 85));
    expect(others(found).length).toBeLessThan(others(alone).length + 0.003 * STRIPS * PASSES * POINTS);
  });

  it('a hole that lies in all passes stays', () => {
    const northOf = (p: number, t: number) => (p % 2 === 1 ? 295 - 2 * t : 5 + 2 * t);
    const inHole = (p: number, t: number) => northOf(p, t) > 100 && northOf(p, t) < 140;
    const rows = rowsOf((s, p, t) => plain(s, p, t) - (inHole(p, t) ? 4000 : 0));
    const deep = placesOf(reasonsOf(rows)).filter((place) => {
      const [p, t] = [Math.floor(place / POINTS) % PASSES, place % POINTS];
      return northOf(p, t) > 112 && northOf(p, t) < 128;
    });
    expect(deep.length).toBeLessThan(3);
  });

  it('a pass that reads higher throughout is left alone', () => {
    const found = placesOf(reasonsOf(rowsOf((s, p, t) => plain(s, p, t) * (p === 1 ? 1.4 : 1))));
    const usual = placesOf(reasonsOf(rowsOf(plain)));
    expect(found.length).toBeLessThan(usual.length + 0.02 * STRIPS * PASSES * POINTS);
  });

  it('no treatment border is crossed: whatever other strips hold, the reasons of a strip stay (property)', () => {
    const wild = fc.record({
      seed: fc.integer({ min: 1, max: 1e6 }),
      times: fc.constantFrom(0, 0.1, 1, 3, 50),
      add: fc.integer({ min: -20_000, max: 20_000 }),
      own: fc.integer({ min: 0, max: STRIPS - 1 }),
    });
    fc.assert(
      fc.property(wild, ({ seed, times, add, own }) => {
        const random = seededRandom(seed);
        const before = reasonsOf(rowsOf((s, p, t) => plain(s, p, t) - (isBlocked(s, p, t) ? 2500 : 0)));
        const after = reasonsOf(
          rowsOf((s, p, t) => {
            const value = plain(s, p, t) - (isBlocked(s, p, t) ? 2500 : 0);
            return s === own ? value : times * value + add * random.normal();
          }),
        );
        const [first, end] = [placeOf(own, 0, 0), placeOf(own + 1, 0, 0)];
        expect(after.subarray(first, end)).toEqual(before.subarray(first, end));
      }),
      { numRuns: 40, seed: 61 },
    );
  });

  it('order of files changes nothing, and a strip of one pass has nothing beside it', () => {
    const rows = rowsOf((s, p, t) => plain(s, p, t) - (isBlocked(s, p, t) ? 2500 : 0));
    const passIs = (wanted: (pass: number) => boolean) =>
      rows.filter((_, k) => wanted(Math.floor(k / POINTS) % PASSES));
    const files = [passIs((p) => p === 1), passIs((p) => p !== 1)].map((own, f) => ({
      ...pointsFile(own),
      file: `${f}`,
    }));
    const valuesOf = (given: typeof files) => {
      const outcome = harvestPoints(TRIAL(), given);
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      return outcome.value.strips.map(({ values, pointsSetAside }) => [
        values.yield,
        pointsSetAside.outlier ?? 0,
      ]);
    };
    valuesOf([...files].reverse()).forEach(([value, setAside], s) => {
      expect(value).toBeCloseTo(valuesOf(files)[s]![0]!, 8);
      expect(setAside).toBe(valuesOf(files)[s]![1]);
    });
    const single = passIs((p) => p === 1);
    expect(reasonsOf(single)).toEqual(reasonsOf(single, { acrossScreen: false }));
  });

  it('the grid of cleanings screens as the harvest does', () => {
    const rows = rowsOf((s, p, t) => plain(s, p, t) - (isBlocked(s, p, t) ? 2500 : 0));
    for (const settings of [{}, { acrossScreen: false }, { outlierRobustSd: 2 }]) {
      const trial = TRIAL(settings);
      const outcome = harvestPoints(trial, [pointsFile(rows)]);
      const under = harvestVariants(trial, [pointsFile(rows)])!;
      const values = outcome.ok ? outcome.value.strips.map((strip) => strip.values.yield ?? null) : [];
      expect(under(trial.harvest)).toEqual(values);
    }
  });
});
