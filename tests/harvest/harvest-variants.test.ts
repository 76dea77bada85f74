import { expect, it } from 'vitest';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { cleaningsTried, settingsUnder } from '../../src/pipeline/cleanings-tried.ts';
import { lengthUnit } from '../../src/trial/display-units.ts';
import { STARTING_HARVEST_SETTINGS } from '../../src/trial/starting-settings.ts';
import { cleaningChanges } from '../../src/words/cleaning-sentences.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { type PointRow, pointsFile, trialOfStrips, withSettings } from './field-of-strips.ts';

/** Two strips of 24 m, a header of 8 m, three passes up each strip, a point every 2 m, and faults that each screen is there for. */
const [STRIPS, PASSES, POINTS] = [2, 3, 140];
const random = seededRandom(20_261_125);
const wander = Array.from({ length: STRIPS * PASSES }, () => 2 * random.uniform());

/** Faults of the point at t of a pass; yields beside them are odd, so that leaving them in shows. */
function faulty(strip: number, pass: number, t: number, plain: PointRow): PointRow {
  const yieldKgPerHa = plain.yieldKgPerHa! + 700;
  // The same place again.
  if (t === 20) return { ...plain, northM: plain.northM + (pass === 1 ? 2 : -2) };
  if (t === 30 || t === 31) return { ...plain, headingDegrees: plain.headingDegrees! + 35, yieldKgPerHa };
  if (t === 40 || t === 41) return { ...plain, speedMPerS: 0.5, yieldKgPerHa };
  if (t === 50 || t === 51) return { ...plain, widthM: 4, yieldKgPerHa };
  if (t === 60 || t === 61) return { ...plain, moisturePercent: 45, yieldKgPerHa };
  if (t === 70) return { ...plain, yieldKgPerHa: plain.yieldKgPerHa! - 2500 };
  // The second pass strays over ground that the first had cut.
  if (pass === 1 && t >= 85 && t < 95) return { ...plain, eastM: plain.eastM - 2.5, yieldKgPerHa };
  if (strip === 1 && pass === 1 && t >= 100 && t < 120)
    return { ...plain, yieldKgPerHa: plain.yieldKgPerHa! - 2500 };
  // In all passes side by side, so that no neighbour shows it.
  const isTooMuch = strip === 0 && plain.northM > 195 && plain.northM < 225;
  return isTooMuch ? { ...plain, yieldKgPerHa: 30_000 } : plain;
}

const rows = Array.from({ length: STRIPS * PASSES * POINTS }, (_, k): PointRow => {
  const [strip, pass, t] = [Math.floor(k / (PASSES * POINTS)), Math.floor(k / POINTS) % PASSES, k % POINTS];
  const isBack = pass % 2 === 1;
  const northM = isBack ? 295 - 2 * t : 5 + 2 * t;
  return faulty(strip, pass, t, {
    eastM: strip * 24 + 4 + 8 * pass,
    northM,
    timeS: 1000 * (strip * PASSES + pass) + t,
    distanceM: 2,
    widthM: 8,
    speedMPerS: 2,
    headingDegrees: isBack ? 180 : 0,
    moisturePercent: 14,
    yieldKgPerHa:
      7000 +
      900 * strip +
      500 * Math.sin(northM / 40 + wander[strip * PASSES + pass]!) +
      120 * random.normal(),
  });
});
const points = pointsFile(rows);
const trial = withSettings(trialOfStrips(STRIPS, 24, 300), {
  ...STARTING_HARVEST_SETTINGS,
  sideMarginM: 0.5,
});

it('gives each variant the strip values of a whole run under its settings, and each setting has a say in this field', () => {
  const under = harvestVariants(trial, [points])!;
  const whole = (varied: Partial<typeof trial.harvest>) => {
    const harvest = harvestPoints(withSettings(trial, varied), [points]);
    if (!harvest.ok) throw new Error(JSON.stringify(harvest.problems));
    return harvest.value.strips.map(({ values }) => values.yield);
  };
  const [own, ...others] = cleaningsTried(trial, true);
  const ownYields = whole({});
  const silent: string[] = [];
  others.forEach((cleaning, k) => {
    const changes = cleaningChanges(cleaning, own!);
    if (changes.length > 1 && k % 4 > 0) return;
    const varied = settingsUnder(cleaning, trial.harvest);
    const yields = under(varied);
    expect(yields, changes.join(', ')).toEqual(whole(varied));
    if (changes.length === 1 && yields.every((value, s) => value === ownYields[s])) silent.push(changes[0]!);
  });
  // None of the strips' sides lies nearer to a footprint when half a metre is given up.
  expect(silent).toEqual(['side margin 0 m']);
  expect(under(settingsUnder(own!, trial.harvest))).toEqual(ownYields);
});

it('names margins in the trial’s unit of length: 10 m are 32.8 ft', () => {
  const [own, ...others] = cleaningsTried(trial, true);
  const named = others.flatMap((cleaning) => cleaningChanges(cleaning, own!, lengthUnit('us')));
  expect(named).toContain('end margin 32.8 ft');
  expect(named).toContain('side margin 3.28 ft');
});

it('starts from a trial that has its screens off too', () => {
  const off = withSettings(trial, {
    positionScreen: false,
    cutBeforeScreen: false,
    acrossScreen: false,
    turnDegrees: null,
    widthShareMin: null,
    moistureMinPercent: 0,
    moistureMaxPercent: 100,
    sideMarginM: 0,
  });
  const under = harvestVariants(off, [points])!;
  const cleanings = cleaningsTried(off, true);
  for (const cleaning of cleanings.filter((_, k) => k < 16 || k % 9 === 0)) {
    const varied = settingsUnder(cleaning, off.harvest);
    const whole = harvestPoints(withSettings(off, varied), [points]);
    if (!whole.ok) throw new Error(JSON.stringify(whole.problems));
    expect(under(varied)).toEqual(whole.value.strips.map(({ values }) => values.yield));
  }
});
