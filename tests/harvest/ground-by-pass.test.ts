import { describe, expect, it } from 'vitest';
import { asApplied } from '../../src/harvest/as-applied.ts';
import { estimateLag } from '../../src/harvest/estimate-lag.ts';
import { harvestGround } from '../../src/harvest/harvest-ground.ts';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { type MachineSpecification, simulateHarvest } from '../simulator/combine-simulator.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { type FieldSpecification, simulateField } from '../simulator/simulated-field.ts';
import {
  ALREADY_STANDARD,
  AS_IT_LIES,
  geographic,
  type Place,
  type PointRow,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';
import { serpentineTrack } from './serpentine.ts';

const HEADER_M = 9;

function unwrap(outcome: Outcome<PointHarvest>): PointHarvest {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

/** The strips without their polygons; strip k was harvested in `passes[k]`. */
function byPass(trial: TrialDocument, passes: readonly (readonly number[])[]): TrialDocument {
  const strips = trial.strips.map((strip, k) => ({
    ...strip,
    polygon: null,
    passes: [...(passes[k] ?? [])],
  }));
  return { ...trial, strips };
}

/** A point each second up and down the field, yields that differ from place to place, some speeds too slow. */
function rowsOf(easts: readonly number[], lengthM = 300): PointRow[] {
  return serpentineTrack(easts, { lengthM, headlandM: 16, stepM: 2 }).map((point, i) => ({
    ...point,
    yieldKgPerHa: 6000 + 40 * point.eastM + 300 * Math.sin(i / 7) + (i % 97 === 0 ? 4000 : 0),
    moisturePercent: 15 + Math.sin(i / 11),
    distanceM: 2,
    speedMPerS: i % 61 === 0 ? 0.5 : 2,
    widthM: HEADER_M,
  }));
}

function counted(harvest: PointHarvest) {
  return harvest.strips.map(({ values, pointsKept, harvestedAreaM2 }) => ({
    pointsKept,
    figures: [values.yield, values.moisture, harvestedAreaM2],
  }));
}

function closeTo(found: PointHarvest, expected: PointHarvest, relative: number): void {
  counted(found).forEach((strip, k) => {
    const other = counted(expected)[k]!;
    expect(strip.pointsKept).toBe(other.pointsKept);
    strip.figures.forEach((figure, at) => {
      expect(other.figures[at]).toBeGreaterThan(0);
      expect(Math.abs(figure! / other.figures[at]! - 1)).toBeLessThan(relative);
    });
  });
}

describe('strips known by their passes', () => {
  const easts = [4.5, 13.5, 22.5, 31.5, 40.5, 49.5];
  const rows = rowsOf(easts);
  const drawn = withSettings(trialOfStrips(6, HEADER_M, 300), { endMarginM: 21.3 });
  const passes = [[1], [2], [3], [4], [5], [6]];

  // Law: where header and strip are as wide, and the header goes down and up on the strip's ends, both say the same.
  it('have the values of the same strips drawn, to the last point', () => {
    const expected = unwrap(harvestPoints(drawn, [pointsFile(rows)]));
    const found = unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(rows)]));
    closeTo(found, expected, 1e-12);
    const reasons = (harvest: PointHarvest) =>
      harvest.strips.map(({ pointsSetAside }) => {
        // What lies on the ends themselves, or in the turn, is outside of one and in the margin of the other.
        const { speed, width, moisture, yield: limits, outlier } = pointsSetAside;
        return { speed, width, moisture, limits, outlier };
      });
    expect(reasons(found)).toEqual(reasons(expected));
    expect(found.strips.map(({ areaM2 }) => areaM2)).toEqual(found.strips.map(() => null));
    expect(found.conditions).toEqual(expected.conditions);
    expect(found.assumptions.map(({ code }) => code)).toContain('stripsByPass');
  });

  it('have them under other cleanings too', () => {
    const varied = { ...drawn.harvest, endMarginM: 33.3, outlierRobustSd: null, shiftLagS: 2 };
    const under = (trial: TrialDocument) => harvestVariants(trial, [pointsFile(rows)])?.(varied) ?? [];
    const expected = under(drawn);
    under(byPass(drawn, passes)).forEach((value, k) => {
      expect(Math.abs(value! / expected[k]! - 1)).toBeLessThan(1e-12);
    });
    expect(expected).toHaveLength(6);
  });

  it('take several passes, on both sides of a neighbour too, and leave border passes outside', () => {
    const border = byPass(trialOfStrips(2, 18, 300), [
      [2, 5],
      [3, 4],
    ]);
    const found = unwrap(harvestPoints(border, [pointsFile(rows)]));
    const single = unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(rows)]));
    const read = (k: number) => single.strips[k]!.pointsRead!;
    expect(found.strips.map(({ pointsRead }) => pointsRead)).toEqual([read(1) + read(4), read(2) + read(3)]);
    // Passes 2 and 5 lie 27 m apart: the ends of each are its own, so none is lost to the way between them.
    const kept = unwrap(harvestPoints(byPass(trialOfStrips(6, 9, 300), passes), [pointsFile(rows)])).strips;
    expect(found.strips[0]!.pointsKept).toBe(kept[1]!.pointsKept! + kept[4]!.pointsKept!);
  });

  // Law: read = kept + set aside, over all and in each strip.
  it('keep and set aside what was read', () => {
    const { strips, totals } = unwrap(
      harvestPoints(byPass(drawn, [[1], [3], [], [6, 2]]), [pointsFile(rows)]),
    );
    const aside = (reasons: Readonly<Record<string, number>>) =>
      Object.values(reasons).reduce((sum, count) => sum + count, 0);
    expect(totals.kept + aside(totals.setAside)).toBe(rows.length);
    for (const { pointsRead, pointsKept, pointsSetAside } of strips)
      expect(pointsKept! + aside(pointsSetAside)).toBe(pointsRead);
    expect(strips[2]).toMatchObject({ values: { yield: null }, pointsRead: 0 });
  });

  // Law: order of files changes nothing.
  it('do not hang on the order of the files', () => {
    const one = { ...pointsFile(rowsOf([4.5, 22.5, 40.5])), file: 'one.csv' };
    const two = { ...pointsFile(rowsOf([13.5, 31.5, 49.5])), file: 'two.csv' };
    const trial = byPass(drawn, passes);
    closeTo(unwrap(harvestPoints(trial, [two, one])), unwrap(harvestPoints(trial, [one, two])), 1e-12);
  });

  // Law: a turned, shifted or mirrored field has the same values; numbers may run from the other edge.
  it.each([
    ['turned by 20 degrees', 20, 1, false],
    ['turned by 70 degrees', 70, 1, true],
    ['turned by 123.4 degrees', 123.4, 1, true],
    ['turned by -77 degrees', -77, 1, false],
    ['mirrored', 0, -1, true],
  ] as const)('do not hang on how the field lies: %s', (_, degrees, mirror, isReversed) => {
    const [cosine, sine] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const place: Place = (east, north) => [
      cosine * mirror * east + sine * north + 431,
      cosine * north - sine * mirror * east - 97,
    ];
    const numbers = passes.map(([pass]) => [isReversed ? 7 - pass! : pass!]);
    const found = unwrap(harvestPoints(byPass(drawn, numbers), [pointsFile(rows, ALREADY_STANDARD, place)]));
    closeTo(
      found,
      unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(rows, ALREADY_STANDARD, AS_IT_LIES)])),
      1e-9,
    );
  });

  // As the strips drawn: a receiver's drift of 1 m is granted, the rest of an overlap counts as part-width.
  it('set part-width cuts aside, by the recorded width and by ground cut before', () => {
    const places = [4.5, 13.5, 18, 27, 36, 45];
    const narrow = rowsOf(places).map((row) =>
      row.eastM > 42 && row.northM < 200 ? { ...row, widthM: 4 } : row,
    );
    const { strips } = unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(narrow)]));
    const cut = strips.map(({ pointsSetAside }) => pointsSetAside.width ?? 0);
    // Pass 3 went over half of what pass 2 had cut, all along its 300 m less the ends; pass 6 was 4 m wide for 200 m.
    expect(cut.map((count) => count > 80)).toEqual([false, false, true, false, false, true]);
    expect(strips[2]!.pointsKept).toBe(0);
  });

  it('begin and end by their yield where the header is not recorded', () => {
    const bare = rowsOf(easts).map(({ headerDown, ...row }) => ({
      ...row,
      yieldKgPerHa: headerDown ? row.yieldKgPerHa! : 0,
    }));
    const found = unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(bare)]));
    closeTo(found, unwrap(harvestPoints(byPass(drawn, passes), [pointsFile(rows)])), 1e-12);
    expect(found.assumptions.map(({ code }) => code)).toContain('passEndsFromYield');
  });

  it('may bend with the land', () => {
    // Arcs about a point 400 m to the east, 9 m apart, each through 0.7 rad.
    const radii = [391, 382, 373];
    const bent = radii.flatMap((radius, pass): PointRow[] => {
      const count = Math.floor((0.7 * radius) / 2);
      return Array.from({ length: count }, (_, k) => {
        const angle = ((pass % 2 === 0 ? k : count - 1 - k) * 2) / radius - 0.35;
        return {
          eastM: 400 - radius * Math.cos(angle),
          northM: radius * Math.sin(angle),
          yieldKgPerHa: 6000 + 500 * pass,
          distanceM: 2,
          widthM: HEADER_M,
          timeS: 1000 * pass + k,
          headerDown: 1,
        };
      });
    });
    const trial = withSettings(byPass(trialOfStrips(3, HEADER_M, 300), [[1], [2], [3]]), { endMarginM: 20 });
    const { strips } = unwrap(harvestPoints(trial, [pointsFile(bent)]));
    strips.forEach(({ values, pointsKept }, k) => {
      expect(values.yield).toBeCloseTo(6000 + 500 * k, 6);
      // Along the chord the two margins of 20 m take some 22 m of the arc each.
      const lengthM = 0.7 * radii[k]!;
      expect(Math.abs(2 * pointsKept! - (lengthM - 43))).toBeLessThan(8);
    });
  });

  it('are laid under logs of the application as drawn strips are', () => {
    const at = (eastM: number, k: number) => geographic(eastM, 2 * k);
    const log = [13.5, 31.5, 49.5].flatMap((eastM, pass) =>
      Array.from({ length: 150 }, (_, k) => ({
        at: at(eastM, k),
        timeS: 1000 * pass + k,
        on: !(pass === 1 && k > 60 && k < 80),
      })),
    );
    const logs = [
      {
        asked: { path: 'log.csv', columns: {}, swathM: null, products: [] },
        log: {
          file: 'log.csv',
          count: log.length,
          ground: {
            kind: 'points' as const,
            longitude: Float64Array.from(log, (point) => point.at[0]),
            latitude: Float64Array.from(log, (point) => point.at[1]),
            widthM: new Float64Array(log.length).fill(HEADER_M),
            timeS: Float64Array.from(log, ({ timeS }) => timeS),
          },
          rate: null,
          rateUnit: null,
          products: ['treatment B'],
          product: new Int32Array(log.length),
          applied: Uint8Array.from(log, ({ on }) => (on ? 1 : 0)),
        },
      },
    ];
    const trial = byPass(drawn, passes);
    const ground = harvestGround(trial, [pointsFile(rows)]);
    if (!ground.ok) throw new Error(JSON.stringify(ground.problems));
    const found = asApplied(trial, logs, ground.value).found;
    const expected = asApplied(drawn, logs).found;
    const covered = (of: typeof found) => of?.strips.map((strip) => strip?.coveredShare ?? null) ?? [];
    covered(expected).forEach((share, k) => {
      if (share === null) expect(covered(found)[k]).toBeNull();
      else expect(Math.abs(share - covered(found)[k]!)).toBeLessThan(1e-6);
    });
    expect(covered(expected)[3]).toBeLessThan(0.9);
    expect(found?.offPlan.map((stretches) => stretches.length)).toEqual(
      expected?.offPlan.map(({ length }) => length),
    );
  });

  it('let areas cut out of the field reach every strip of the block', () => {
    const corner = (east: number, north: number) => geographic(east, north);
    const ring = [corner(2, 100), corner(7, 100), corner(7, 140), corner(2, 140), corner(2, 100)];
    const area = {
      id: 'a1',
      reason: 'wet',
      note: '',
      strip: null,
      polygon: { type: 'Polygon' as const, coordinates: [ring] },
    };
    const exclusions = [area] as NonNullable<TrialDocument['harvest']['exclusions']>;
    const cut = withSettings(byPass(drawn, passes), { exclusions });
    const { strips } = unwrap(harvestPoints(cut, [pointsFile(rows)]));
    const expected = unwrap(harvestPoints(withSettings(drawn, { exclusions }), [pointsFile(rows)])).strips;
    expect(strips.map(({ pointsSetAside }) => pointsSetAside.cutFromBlock)).toEqual(
      expected.map(({ pointsSetAside }) => pointsSetAside.cutFromBlock),
    );
    expect(strips[0]!.pointsSetAside.cutFromBlock).toBeGreaterThan(15);
    expect(strips[2]!.pointsSetAside.cutFromBlock).toBeUndefined();
  });
});

const FIELD: FieldSpecification = {
  stripWidthM: HEADER_M,
  stripLengthM: 300,
  yieldKgPerHa: Array.from({ length: 8 }, (_, s) => 6000 + 700 * (s % 2) + 60 * s),
  moisturePercent: Array.from({ length: 8 }, (_, s) => 15 + 0.8 * (s % 2)),
  standardMoisturePercent: 15,
  patchShare: 0.05,
};
const MACHINE: MachineSpecification = {
  headerM: HEADER_M,
  speedMPerS: 1.8,
  speedWanderShare: 0.06,
  lagS: 10,
  mixingS: 2,
  lagTakenOutS: 9,
  driftM: 0.2,
  jitterM: 0.05,
  flowNoiseShare: 0.04,
  moistureNoisePercent: 0.15,
  recordedWidth: 'header',
  faults: {
    slowdownsPerPass: 0.4,
    stopsPerPass: 0.2,
    liftsPerPass: 0.2,
    turnsWithHeaderDownShare: 0.3,
    flowSpikeShare: 0.003,
    moistureSpikeShare: 0.002,
  },
};

/** Header-wide strips, driven in lands as growers do. */
function simulatedFile(seed: number): HarvestPointsInput {
  const random = seededRandom(seed);
  const middles = [0, 4, 1, 5, 2, 6, 3, 7].map((s) => HEADER_M * (s + 0.5));
  const { rows } = simulateHarvest(simulateField(FIELD, random), MACHINE, middles, random);
  return pointsFile(rows, { ...ALREADY_STANDARD, moistureBasis: 'wet' });
}

describe('a simulated combine in header-wide strips', () => {
  const drawn = trialOfStrips(8, HEADER_M, 300);
  const eachItsOwn = byPass(
    drawn,
    drawn.strips.map((_, k) => [k + 1]),
  );

  // The header goes down 2 m before the strip and up 2 m behind it, and a point stands for up to 2 m: the ends of a
  // pass lie up to 4 m beyond those of the strip, so of some 260 m kept up to 8 m differ. On ground that varies by
  // 5 %, at the ends with the ramps of the flow, that is up to 0.3 %; 0.5 % is stated.
  it.each([1, 2, 3, 4, 5, 6])(
    'gives the same strip values as drawn strips but for the ends: seed %i',
    (seed) => {
      const file = simulatedFile(seed);
      const expected = unwrap(harvestPoints(drawn, [file])).strips;
      const found = unwrap(harvestPoints(eachItsOwn, [file])).strips;
      found.forEach(({ values }, k) => {
        expect(Math.abs(values.yield! / expected[k]!.values.yield! - 1)).toBeLessThan(0.005);
      });
    },
  );

  it('tells the lag without outlines as it does with them', () => {
    const file = simulatedFile(7);
    const told = (trial: TrialDocument) => {
      const outcome = estimateLag(trial, [file]);
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      return outcome.value[0]!.flow.kind;
    };
    expect(
      told({ ...eachItsOwn, strips: eachItsOwn.strips.map((strip) => ({ ...strip, passes: null })) }),
    ).toBe(told(drawn));
  });
});

describe('what is refused', () => {
  const file = pointsFile(rowsOf([4.5, 13.5, 22.5, 31.5]));
  const trial = byPass(trialOfStrips(4, HEADER_M, 300), [[1], [2], [3], [4]]);
  const codes = (asked: TrialDocument, files: readonly HarvestPointsInput[] = [file]) => {
    const outcome = harvestPoints(asked, files);
    for (const { code, details } of outcome.problems)
      expect(Object.keys(details).sort()).toEqual(
        [...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES]].sort(),
      );
    return outcome.problems
      .filter(({ severity }) => outcome.ok || severity === 'error')
      .map(({ code }) => code);
  };
  const numbering = { files: ['points.csv'], count: 4, from: 'west', acrossM: 27 } as const;
  const held = { ...trial, passNumbering: { ...numbering, files: ['points.csv'] } };

  it('a document with some strips drawn and others by pass', () => {
    const mixed = { ...trial, strips: [trialOfStrips(1, 9, 300).strips[0]!, ...trial.strips.slice(1)] };
    expect(codes(mixed)).toEqual(['stripsDrawnAndByPass']);
  });

  it('a track other than the one that was numbered; without any kept it is said', () => {
    expect(codes(held)).not.toContain('passesNotHeld');
    expect(codes(trial)).toContain('passesNotHeld');
    for (const changes of [
      { count: 5 },
      { from: 'south' as const },
      { acrossM: 36 },
      { files: ['other.csv'] },
    ])
      expect(codes({ ...held, passNumbering: { ...held.passNumbering, ...changes } })).toEqual([
        'passesRenumbered',
      ]);
  });

  it('a pass that is not there, and one given twice', () => {
    expect(codes(byPass(trial, [[1], [2], [3], [5]]))).toEqual(['passUnknown']);
    expect(codes(byPass(trial, [[1], [2], [2, 3], [4]]))).toEqual(['passInTwoStrips']);
  });

  it('files without positions, fields far apart, tracks without a pass, and no file at all', () => {
    const nowhere = { ...file, file: 'bare.csv', latitude: file.latitude.map(() => Number.NaN) };
    expect(codes(trial, [file, nowhere])).toEqual(['fileWithoutPositions']);
    const away = { ...file, file: 'away.csv', latitude: file.latitude.map((value) => value + 1) };
    expect(codes(trial, [file, file, away])).toEqual(['filesFarApart']);
    const up = { ...file, headerDown: new Uint8Array(file.count) };
    expect(codes(trial, [up])).toEqual(['noHarvestPasses']);
    expect(codes(trial, [])).toEqual(['noHarvestFile']);
  });

  it('nothing of strips without a pass, nor of a file without one, but it is said', () => {
    expect(codes(byPass(held, [[1], [2], [3]]))).toContain('stripsWithoutPass');
    const two = { ...pointsFile(rowsOf([40.5, 49.5])), file: 'two.csv' };
    expect(codes(trial, [file, two])).toContain('fileWithoutStripPass');
  });

  it('a new trial is still told that its strips have no ground', () => {
    expect(codes({ ...newTrial('t'), strips: byPass(trial, []).strips })).toEqual(['noStripPolygons']);
  });
});
