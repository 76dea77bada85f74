import { describe, expect, it } from 'vitest';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { HARVEST_ASSUMPTION_CODES, HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import {
  ALREADY_STANDARD,
  NO_SCREENS,
  type Place,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

const bare = (strips: number) => withSettings(trialOfStrips(strips, 12, 300), NO_SCREENS);

function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const yields = ({ strips }: PointHarvest) => strips.map(({ values }) => values.yield ?? null);
const stripYield = (trial: ReturnType<typeof bare>, file: HarvestPointsInput) =>
  yields(unwrap(harvestPoints(trial, [file])))[0] as number;
const codes = (outcome: Outcome<unknown>) => outcome.problems.map(({ code }) => code);

/** Up the middle of a strip, a point each second. */
function pass(strip: number, point: (second: number) => Partial<PointRow>, seconds = 100): PointRow[] {
  return Array.from({ length: seconds }, (_, t) => ({
    eastM: strip * 12 + 6,
    northM: 1.5 + 2 * t,
    timeS: strip * 1000 + t,
    ...point(t),
  }));
}

const at = (t: number) => 6000 + 20 * t;
const speed = (t: number) => 1.5 + 0.5 * Math.sin(t / 9);
const flow = (t: number) => (at(t) / 10_000) * 9 * speed(t);

describe('yield of a strip', () => {
  it('is mass over area under changing speed, not the mean of point yields', () => {
    // Analytic: 40 points of 1 m at 10 t/ha and 60 of 3 m at 5 t/ha, 9 m wide: (40*10 + 180*5) / 220 t/ha.
    const rows = pass(0, (t) => ({
      yieldKgPerHa: t < 40 ? 10_000 : 5000,
      distanceM: t < 40 ? 1 : 3,
      widthM: 9,
    }));
    const harvest = unwrap(harvestPoints(bare(1), [pointsFile(rows)]));
    expect(harvest.strips[0]?.values.yield).toBeCloseTo((40 * 10_000 + 180 * 5000) / 220, 9);
    expect(harvest.strips[0]?.harvestedAreaM2).toBeCloseTo(9 * 220, 9);
    expect(harvest.weighing).toBe('area');
  });

  it('is the same from yield, from flow and from mass, by distance or by speed', () => {
    // Definitions: flow = yield x width x speed, mass = flow x 1 s, distance = speed x 1 s.
    const ways: ((t: number) => Partial<PointRow>)[] = [
      (t) => ({ speedMPerS: speed(t), widthM: 9, yieldKgPerHa: at(t) }),
      (t) => ({ distanceM: speed(t), widthM: 9, yieldKgPerHa: at(t) }),
      (t) => ({ speedMPerS: speed(t), widthM: 9, massFlowKgPerS: flow(t) }),
      (t) => ({ distanceM: speed(t), widthM: 9, massFlowKgPerS: flow(t) }),
      (t) => ({ distanceM: speed(t), widthM: 9, massKg: flow(t) }),
    ];
    const values = ways.map((way) => stripYield(bare(1), pointsFile(pass(0, way))));
    for (const value of values) expect(value).toBeCloseTo(values[0] as number, 8);
    const untimed = pass(0, (t) => ({ speedMPerS: speed(t), widthM: 9, massFlowKgPerS: flow(t) })).map(
      ({ timeS: _, ...row }) => row,
    );
    expect(stripYield(bare(1), pointsFile(untimed))).toBeCloseTo(values[0] as number, 8);
  });

  it('weighs points alike where neither distance nor speed is known, and says so', () => {
    const rows = pass(0, (t) => ({ yieldKgPerHa: at(t) }));
    const harvest = unwrap(harvestPoints(bare(1), [pointsFile(rows)]));
    expect(harvest.weighing).toBe('equal');
    expect(harvest.assumptions.map(({ code }) => code)).toContain('weighedEqually');
    expect(harvest.strips[0]?.values.yield).toBeCloseTo(at(49.5), 9);
    expect(harvest.strips[0]?.harvestedAreaM2).toBeNull();
  });

  it('gives a part-width point the ground that it cut', () => {
    // Analytic, part-width screen off: 50 points of 9 m at 6 t/ha, 50 of 3 m at 2 t/ha, 2 m each.
    const rows = pass(0, (t) => ({
      yieldKgPerHa: t < 50 ? 6000 : 2000,
      distanceM: 2,
      widthM: t < 50 ? 9 : 3,
    }));
    const expected = (50 * 18 * 6000 + 50 * 6 * 2000) / (50 * 18 + 50 * 6);
    expect(stripYield(bare(1), pointsFile(rows))).toBeCloseTo(expected, 8);
  });

  it('brings each point to standard by its own moisture, and weighs moisture by wet mass', () => {
    // Analytic: equal ground; 6 t/ha at 20 % and 4 t/ha at 10 % wet are 4.8 and 3.6 t/ha dry; standard 15 %.
    const rows = pass(0, (t) => ({
      yieldKgPerHa: t % 2 === 0 ? 6000 : 4000,
      moisturePercent: t % 2 === 0 ? 20 : 10,
      distanceM: 2,
      widthM: 9,
    }));
    const wet = pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
    const [strip] = unwrap(harvestPoints(bare(1), [wet])).strips;
    expect(strip?.values.yield).toBeCloseTo((4800 + 3600) / 2 / 0.85, 9);
    expect(strip?.values.moisture).toBeCloseTo((6 * 20 + 4 * 10) / 10, 9);
  });

  it('is null, and said, in a strip that keeps no point', () => {
    const outcome = harvestPoints(bare(2), [pointsFile(pass(0, () => ({ yieldKgPerHa: 5000 })))]);
    expect(yields(unwrap(outcome))).toEqual([5000, null]);
    const said = outcome.problems.find(({ code }) => code === 'stripsWithoutKeptPoints');
    expect(said?.details).toEqual({ strips: ['s2'], count: 1, pointsRead: 0, mostOften: null });
  });
});

describe('lag', () => {
  const sensed = (lagS: number) =>
    pass(0, (t) => ({
      distanceM: 2,
      widthM: 9,
      yieldKgPerHa: at(t - lagS),
      moisturePercent: 10 + (t - lagS) / 50,
    }));

  it('moves flow and moisture back along the track: a late signal comes to lie where it was cut', () => {
    const trial = bare(1);
    for (const lagS of [7, 2.5, -3]) {
      const shifted = withSettings(trial, { shiftLagS: lagS });
      const { placed } = unwrap(harvestPoints(shifted, [pointsFile(sensed(lagS))]));
      const there = [...placed.yieldKgPerHa].flatMap((value, t) =>
        placed.reason[t] === 0 ? [[t, value]] : [],
      );
      expect(there.length).toBe(100 - Math.ceil(Math.abs(lagS)));
      for (const [t, value] of there) expect(value).toBeCloseTo(at(t!), 8);
    }
  });

  it('cannot be moved without time: said, and nothing is moved', () => {
    const untimed = sensed(7).map(({ timeS: _, ...row }) => row);
    const trial = withSettings(bare(1), { shiftLagS: 7 });
    const outcome = harvestPoints(trial, [pointsFile(untimed)]);
    expect(codes(outcome)).toContain('shiftNeedsTime');
    expect(yields(unwrap(outcome))[0]).toBeCloseTo(stripYield(bare(1), pointsFile(untimed)), 9);
  });
});

/** A field with everything in it, away from every threshold, drawn once. */
function busyField(): PointRow[] {
  const random = seededRandom(31);
  return [0, 1, 2, 3].flatMap((strip) =>
    pass(
      strip,
      (t) => ({
        eastM: strip * 12 + 6 + random.between(-0.4, 0.4),
        northM: 1.3 + 1.9 * t,
        speedMPerS: random.between(1.85, 1.95),
        distanceM: random.between(1.85, 1.95),
        widthM: 9,
        moisturePercent: random.between(13, 17),
        yieldKgPerHa: 5000 + 300 * strip + 200 * random.normal(),
      }),
      156,
    ),
  );
}

describe('laws', () => {
  const wet = { ...ALREADY_STANDARD, moistureBasis: 'wet' } as const;
  const reference = unwrap(harvestPoints(trialOfStrips(4, 12, 300), [pointsFile(busyField(), wet)]));

  const moves: Record<string, Place> = {
    turned: (x, y) => [x * Math.cos(0.7) - y * Math.sin(0.7), x * Math.sin(0.7) + y * Math.cos(0.7)],
    shifted: (x, y) => [x + 1234.5, y - 987.6],
    mirrored: (x, y) => [-x, y],
    'turned upside down': (x, y) => [-x, -y],
  };
  for (const [name, place] of Object.entries(moves)) {
    it(`a field ${name} has the same strip values`, () => {
      const moved = unwrap(
        harvestPoints(trialOfStrips(4, 12, 300, place), [pointsFile(busyField(), wet, place)]),
      );
      expect(moved.totals).toEqual(reference.totals);
      moved.strips.forEach((strip, i) => {
        const before = reference.strips[i]!;
        expect(Math.abs(strip.values.yield! / before.values.yield! - 1)).toBeLessThan(1e-9);
        expect(Math.abs(strip.values.moisture! / before.values.moisture! - 1)).toBeLessThan(1e-9);
        expect(strip.pointsSetAside).toEqual(before.pointsSetAside);
      });
    });
  }

  it('rows out of order, or split over files, have the same strip values', () => {
    const rows = busyField();
    const random = seededRandom(32);
    const shuffled = rows
      .map((row) => ({ row, key: random.uniform() }))
      .sort((a, b) => a.key - b.key)
      .map(({ row }) => row);
    const trial = trialOfStrips(4, 12, 300);
    const mixed = unwrap(harvestPoints(trial, [pointsFile(shuffled, wet)]));
    const half = rows.length / 2;
    const split = unwrap(
      harvestPoints(trial, [pointsFile(rows.slice(0, half), wet), pointsFile(rows.slice(half), wet)]),
    );
    for (const harvest of [mixed, split]) {
      expect(harvest.totals).toEqual(reference.totals);
      yields(harvest).forEach((value, i) => {
        expect(value).toBeCloseTo(yields(reference)[i]!, 8);
      });
    }
    // Points are handed back in the order of the file's rows.
    shuffled.forEach((row, i) => {
      const before = rows.indexOf(row);
      expect(mixed.placed.eastM[i]).toBe(reference.placed.eastM[before]);
      expect(mixed.placed.yieldKgPerHa[i]).toBe(reference.placed.yieldKgPerHa[before]);
      expect(mixed.placed.reason[i]).toBe(reference.placed.reason[before]);
    });
  });

  it('kept and set aside make up what was read, and twice the yield is twice the value', () => {
    const { read, kept, setAside } = reference.totals;
    expect(read).toBe(624);
    expect(kept + Object.values(setAside).reduce((sum, n) => sum + n, 0)).toBe(read);
    expect(kept).toBeGreaterThan(400);
    const doubled = busyField().map((row) => ({ ...row, yieldKgPerHa: 2 * row.yieldKgPerHa! }));
    const twice = unwrap(harvestPoints(trialOfStrips(4, 12, 300), [pointsFile(doubled, wet)]));
    yields(twice).forEach((value, i) => {
      expect(value).toBeCloseTo(2 * yields(reference)[i]!, 8);
    });
  });
});

describe('what cannot be', () => {
  const rows = pass(0, () => ({ yieldKgPerHa: 5000 }));

  it('no strip with a polygon, or no file', () => {
    const undrawn = { ...bare(1), strips: bare(1).strips.map((strip) => ({ ...strip, polygon: null })) };
    expect(codes(harvestPoints(undrawn, [pointsFile(rows)]))).toEqual(['noStripPolygons']);
    expect(codes(harvestPoints(bare(1), []))).toEqual(['noHarvestFile']);
  });

  it('points of another field, with the distance and whether exchanging the coordinates helps', () => {
    const far = pointsFile(rows);
    const north = { ...far, latitude: far.latitude.map((degrees) => degrees + 1) };
    const [problem] = harvestPoints(bare(1), [north]).problems;
    expect(problem?.code).toBe('pointsFarFromStrips');
    // A degree of latitude on the mean sphere: 6371.0088 km x pi / 180.
    expect(problem?.details.distanceKm).toBeCloseTo((6371.0088 * Math.PI) / 180, 0);
    expect(problem?.details.swapFits).toBe(false);
    const swapped = { ...far, longitude: far.latitude, latitude: far.longitude };
    expect(harvestPoints(bare(1), [swapped]).problems[0]?.details.swapFits).toBe(true);
    const east = { ...far, longitude: far.longitude.map((degrees) => -degrees) };
    expect(harvestPoints(bare(1), [east]).problems[0]?.details).toMatchObject({
      swapFits: false,
      signFits: true,
    });
    expect(problem?.details.signFits).toBe(false);
    const both = harvestPoints(bare(1), [far, north]);
    expect(both.ok && codes(both)).toContain('pointsFarFromStrips');
  });

  it('no yield in the file, or flow without ground', () => {
    const bareRows = rows.map(({ yieldKgPerHa: _, ...row }) => row);
    expect(codes(harvestPoints(bare(1), [pointsFile(bareRows)]))).toEqual(['noYieldInFile']);
    const flowAlone = bareRows.map((row) => ({ ...row, massFlowKgPerS: 5 }));
    const missing = (given: readonly PointRow[]) =>
      harvestPoints(bare(1), [pointsFile(given)]).problems[0]?.details;
    expect(missing(flowAlone)).toEqual({ missing: 'distance' });
    expect(missing(flowAlone.map((row) => ({ ...row, speedMPerS: 2 })))).toEqual({ missing: 'width' });
    const untimed = bareRows.map(({ timeS: _, ...row }) => ({ ...row, massKg: 5, speedMPerS: 2, widthM: 9 }));
    expect(missing(untimed)).toEqual({ missing: 'time' });
  });

  it('cancelled: ends with that problem; progress runs up to 1', () => {
    expect(codes(harvestPoints(bare(1), [pointsFile(rows)], undefined, () => true))).toEqual([
      'harvestCancelled',
    ]);
    const shares: number[] = [];
    harvestPoints(bare(1), [pointsFile(rows)], (share) => shares.push(share));
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
  });
});

describe('warnings and assumptions', () => {
  it('takes the header from the recorded widths, also where part-width cuts are the more', () => {
    const rows = pass(0, (t) => ({ yieldKgPerHa: 5000, distanceM: 2, widthM: t < 30 ? 9 : 2.7 }));
    const trial = withSettings(bare(1), { widthShareMin: 0.9 });
    const harvest = unwrap(harvestPoints(trial, [pointsFile(rows)]));
    const header = harvest.assumptions.find(({ code }) => code === 'headerFromRecordedWidth');
    expect(header?.details.headerM).toBe(9);
    expect(harvest.strips[0]?.pointsSetAside).toEqual({ width: 70 });
  });

  it('headers that reach into the neighbour, and strips narrower than the header', () => {
    const near = pass(0, () => ({ eastM: 2, yieldKgPerHa: 5000, widthM: 9 }));
    const reaching = harvestPoints(bare(1), [pointsFile(near)]);
    expect(reaching.problems.map(({ code, details }) => [code, details])).toEqual([
      ['headerReachesOver', { strips: ['s1'], count: 1, headerM: 9, sharePercent: 100 }],
    ]);
    const wide = pass(0, () => ({ yieldKgPerHa: 5000, widthM: 14 }));
    const narrow = harvestPoints(bare(1), [pointsFile(wide)]);
    expect(codes(narrow)).toContain('stripNarrowerThanHeader');
  });

  it('says what was taken for granted, with the keys that are listed', () => {
    const unanswered = {
      heading: 'y',
      moistureBasis: null,
      atMoisturePercent: null,
      lagAppliedS: null,
      alreadyFiltered: null,
      loggedPosition: null,
    };
    const rows = pass(0, () => ({ yieldKgPerHa: 5000, moisturePercent: 16 })).map(
      ({ timeS: _, ...row }) => row,
    );
    const trial = withSettings(bare(1), { turnDegrees: 20, speedMaxMPerS: 4, widthShareMin: 0.9 });
    const { assumptions } = unwrap(harvestPoints(trial, [pointsFile(rows, unanswered)]));
    expect(assumptions.map(({ code }) => code)).toEqual([
      'moistureBasisAssumedWet',
      'lagAssumedApplied',
      'filteredUnknown',
      'loggedPositionUnknown',
      'headerUnknown',
      'weighedEqually',
      'evenIntervalAssumed',
      'headingFromTrack',
      'screensWithoutData',
    ]);
    for (const { code, details } of assumptions) {
      expect(Object.keys(details)).toEqual([...HARVEST_ASSUMPTION_CODES[code]]);
    }
    expect(assumptions.at(-1)?.details.screens).toEqual(['headerUp', 'speed', 'width']);
  });

  it('lists the keys of every problem that these tests meet', () => {
    const met = [
      harvestPoints(bare(1), []),
      harvestPoints(bare(2), [pointsFile(pass(0, () => ({ eastM: 2, yieldKgPerHa: 5000, widthM: 14 })))]),
    ].flatMap(({ problems }) => problems);
    expect(met.length).toBeGreaterThan(2);
    for (const { code, details } of met) {
      expect(Object.keys(details), code).toEqual([
        ...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES],
      ]);
    }
  });
});
