import { describe, expect, it } from 'vitest';
import { harvestPoints, type PointHarvest } from '../../src/harvest/harvest-points.ts';
import { harvestConditions, liningUp } from '../../src/harvest/lining-up.ts';
import { HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import { balanceProblems, setAsideBalance } from '../../src/harvest/set-aside-balance.ts';
import { SET_ASIDE_REASONS, type StripValue } from '../../src/harvest/strip-values.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import type { HarvestFile, HarvestSettings } from '../../src/trial/trial-document.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { NO_SCREENS, type PointRow, pointsFile, trialOfStrips, withSettings } from './field-of-strips.ts';

function unwrap(outcome: Outcome<PointHarvest>): PointHarvest {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

/** One straight pass, 2 m and a second a point; `start` seconds after the file's beginning. */
function pass(
  eastM: number,
  start: number,
  heads: 'north' | 'south' = 'north',
  at: Partial<PointRow> = {},
): PointRow[] {
  return Array.from({ length: 150 }, (_, t) => ({
    eastM,
    northM: heads === 'north' ? 1 + 2 * t : 299 - 2 * t,
    timeS: start + t,
    distanceM: 2,
    widthM: 9,
    yieldKgPerHa: 5000,
    ...at,
  }));
}

const SETTINGS: HarvestSettings = { ...NO_SCREENS, sideMarginM: 1 };
const trialOf = (strips: number, widthM: number, settings: Partial<HarvestSettings> = {}) =>
  withSettings(trialOfStrips(strips, widthM, 300), { ...SETTINGS, ...settings });
const placesWith = ({ placed }: PointHarvest, reason: string) =>
  [...placed.reason].flatMap((number, i) => (SET_ASIDE_REASONS[number - 1] === reason ? [i] : []));

describe('positions', () => {
  const rows = pass(6, 0).map((row, t) => {
    // Made so: a point that repeats the place before, two that lie 60 m off, a receiver that stays 8 m off for good.
    if (t === 40) return { ...row, northM: 1 + 2 * 39 };
    if (t === 70 || t === 71) return { ...row, northM: row.northM + 60 };
    return t >= 120 ? { ...row, northM: row.northM + 8 } : row;
  });
  const harvest = unwrap(harvestPoints(trialOf(1, 12), [pointsFile(rows)]));

  it('that repeat, or jump farther than was driven, are set aside; one found anew is believed again', () => {
    const faults = placesWith(harvest, 'unreadable');
    expect(faults).toContain(40);
    expect(faults).toContain(70);
    expect(faults).toContain(71);
    // Analytic: k points on, 8 + 2k m are allowed once 3 + 1.5 x 2k m reach them, at k = 5, the fifth point.
    expect(faults.filter((i) => ![40, 70, 71].includes(i))).toEqual([120, 121, 122, 123]);
    expect(harvest.assumptions.find(({ code }) => code === 'positionsNotTrusted')?.details.repeated).toBe(1);
  });

  it('that lie far off for good are believed again after ten points, and so many lost are said in a warning', () => {
    const off = pass(6, 0).map((row, t) => (t >= 100 ? { ...row, northM: row.northM - 90 } : row));
    const outcome = harvestPoints(trialOf(1, 12), [pointsFile(off)]);
    const lost = placesWith(unwrap(outcome), 'unreadable');
    expect(lost).toEqual([100, 101, 102, 103, 104, 105, 106, 107, 108, 109]);
    expect(outcome.problems.map(({ code }) => code)).not.toContain('positionsJump');
    const often = pass(6, 0).map((row, t) => (t % 5 === 3 ? { ...row, northM: row.northM + 60 } : row));
    const said = harvestPoints(trialOf(1, 12), [pointsFile(often)]).problems;
    expect(said.find(({ code }) => code === 'positionsJump')?.details.sharePercent).toBeCloseTo(20, 9);
  });

  it('are left alone where the screen is off, and where nothing was recorded to judge them by', () => {
    const off = unwrap(harvestPoints(trialOf(1, 12, { positionScreen: false }), [pointsFile(rows)]));
    expect(placesWith(off, 'unreadable')).toEqual([]);
    const bare = rows.map(({ distanceM: _, ...row }) => row);
    expect(placesWith(unwrap(harvestPoints(trialOf(1, 12), [pointsFile(bare)])), 'unreadable')).toEqual([]);
  });
});

describe('ground cut before', () => {
  // One strip of 40 m, a 9 m header: side by side, then one that goes 4 m over ground already cut.
  const rows = [...pass(6, 0), ...pass(15, 300, 'south'), ...pass(20, 600)];
  const settings = { widthShareMin: 0.9 };

  it('counts as part-width where it takes more than the limit and a metre of drift', () => {
    const harvest = unwrap(harvestPoints(trialOf(1, 40, settings), [pointsFile(rows)]));
    expect(placesWith(harvest, 'width')).toEqual(Array.from({ length: 150 }, (_, k) => 300 + k));
    const apart = [...pass(6, 0), ...pass(13.5, 300, 'south'), ...pass(22, 600)];
    expect(placesWith(unwrap(harvestPoints(trialOf(1, 40, settings), [pointsFile(apart)])), 'width')).toEqual(
      [],
    );
  });

  it('adds up what neighbours on both sides took', () => {
    const between = [...pass(6, 0), ...pass(22, 300, 'south'), ...pass(14, 600)];
    // Analytic: the gap from 10.5 to 17.5 leaves 7 of 9 m, so 2 m were cut before: 0.9 + 1 m allow 1.9.
    const harvest = unwrap(harvestPoints(trialOf(1, 40, settings), [pointsFile(between)]));
    expect(placesWith(harvest, 'width').length).toBe(150);
  });

  it('is not looked at when switched off, and is no ground where the header was up', () => {
    const off = unwrap(
      harvestPoints(trialOf(1, 40, { ...settings, cutBeforeScreen: false }), [pointsFile(rows)]),
    );
    expect(placesWith(off, 'width')).toEqual([]);
    const lifted = rows.map((row, i) => ({ ...row, headerDown: i >= 150 && i < 300 ? 0 : 1 }));
    const harvest = unwrap(harvestPoints(trialOf(1, 40, settings), [pointsFile(lifted)]));
    expect(placesWith(harvest, 'width')).toEqual([]);
  });
});

function valuesWith(shares: readonly number[]): StripValue[] {
  return shares.map((share, s) => ({
    strip: `s${s + 1}`,
    values: { yield: 5000 },
    areaM2: null,
    harvestedAreaM2: null,
    pointsRead: 1200,
    pointsKept: 1000 - share,
    pointsSetAside: { speed: share, endMargin: 200 },
    subSamples: null,
    cvWithinPercent: null,
  }));
}

describe('shares set aside by treatment', () => {
  it('are tested on strips by the design: with two treatments F is the square of the paired t', () => {
    const shares = [30, 50, 20, 45, 41, 52, 33, 61];
    const balance = setAsideBalance(trialOf(8, 12), valuesWith(shares));
    // Student's paired t by its definition, over the four blocks.
    const d = [20, 25, 11, 28].map((x) => x / 1000);
    const mean = d.reduce((a, b) => a + b) / 4;
    const sd = Math.sqrt(d.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 3);
    expect(balance.f).toBeCloseTo((mean / (sd / 2)) ** 2, 9);
    expect([balance.treatmentDf, balance.errorDf]).toEqual([1, 3]);
    expect(balance.gap).toBeCloseTo(mean, 12);
    // t 5.59 on 3 df lies between the printed .02 and .01 points of two tails (4.541, 5.841).
    expect(balance.p).toBeGreaterThan(0.01);
    expect(balance.p).toBeLessThan(0.02);
    const said = balanceProblems(balance);
    expect(said.map(({ code }) => code)).toEqual(['setAsideByTreatment']);
    expect(Object.keys(said[0]!.details)).toEqual([...HARVEST_PROBLEM_CODES.setAsideByTreatment]);
  });

  it('are not said twice where the gap is 5 points, nor where chance explains them, nor where all are alike', () => {
    expect(
      balanceProblems(setAsideBalance(trialOf(8, 12), valuesWith([0, 90, 10, 95, 0, 92, 5, 99]))),
    ).toEqual([]);
    expect(
      balanceProblems(setAsideBalance(trialOf(8, 12), valuesWith([30, 50, 50, 30, 41, 40, 61, 63]))),
    ).toEqual([]);
    const alike = setAsideBalance(trialOf(8, 12), valuesWith(new Array<number>(8).fill(7)));
    expect([alike.p, alike.gap]).toEqual([null, 0]);
  });

  it('warn one blameless trial in ten, as a test at .10 must', () => {
    const random = seededRandom(71);
    const trials = 600;
    let warned = 0;
    for (let n = 0; n < trials; n++) {
      const shares = Array.from({ length: 12 }, () => 30 + 5 * random.normal());
      if (balanceProblems(setAsideBalance(trialOf(12, 12), valuesWith(shares))).length > 0) warned += 1;
    }
    // Binomial: .10 with a standard error of .0122; 3.3 of them either way.
    expect(Math.abs(warned / trials - 0.1)).toBeLessThan(3.3 * Math.sqrt((0.1 * 0.9) / trials));
  });
});

describe('what lines up with treatments', () => {
  const codes = (outcome: Outcome<PointHarvest>) => outcome.problems.map(({ code }) => code);
  const trial = trialOf(8, 12);
  const strips = Array.from({ length: 8 }, (_, s) => s);

  it('direction of travel: back and forth over A B A B', () => {
    const backAndForth = strips.flatMap((s) => pass(12 * s + 6, 400 * s, s % 2 === 0 ? 'north' : 'south'));
    const outcome = harvestPoints(trial, [pointsFile(backAndForth)]);
    expect(codes(outcome)).toEqual(['directionLinesUp']);
    expect(outcome.problems[0]?.details).toEqual({ sharePercent: 100 });
    expect(unwrap(outcome).conditions.direction.slice(0, 2)).toEqual(['along', 'against']);
    const byBlock = strips.flatMap((s) => pass(12 * s + 6, 400 * s, s % 4 < 2 ? 'north' : 'south'));
    expect(codes(harvestPoints(trial, [pointsFile(byBlock)]))).toEqual([]);
  });

  it('file and day, and neither when they go with blocks', () => {
    const rowsOf = (wanted: (s: number) => boolean) =>
      strips.filter(wanted).flatMap((s, k) => pass(12 * s + 6, 400 * k, s % 4 < 2 ? 'north' : 'south'));
    const two = (wanted: (s: number) => boolean) => [
      pointsFile(rowsOf(wanted)),
      { ...pointsFile(rowsOf((s) => !wanted(s))), file: 'second.csv' },
    ];
    expect(
      codes(
        harvestPoints(
          trial,
          two((s) => s % 2 === 0),
        ),
      ),
    ).toEqual(['fileLinesUp']);
    expect(
      codes(
        harvestPoints(
          trial,
          two((s) => s < 4),
        ),
      ),
    ).toEqual([]);
    const days = [0, 2, 4, 6, 1, 3, 5, 7].flatMap((s, k) =>
      pass(12 * s + 6, 400 * k + (k >= 4 ? 80_000 : 0), s % 4 < 2 ? 'north' : 'south'),
    );
    expect(codes(harvestPoints(trial, [pointsFile(days)]))).toEqual(['dayLinesUp']);
  });

  describe('of two files that go with treatments', () => {
    const rowsOf = (wanted: (s: number) => boolean) =>
      strips.filter(wanted).flatMap((s, k) => pass(12 * s + 6, 400 * k, s % 4 < 2 ? 'north' : 'south'));
    const files = [
      pointsFile(rowsOf((s) => s % 2 === 0)),
      { ...pointsFile(rowsOf((s) => s % 2 === 1)), file: 'second.csv' },
    ] as const;
    const said = (first: Partial<HarvestFile>, second: Partial<HarvestFile>) => ({
      ...trial,
      harvestFiles: [
        { path: 'points.csv', kind: 'points' as const, columns: {}, yieldColumns: [], ...first },
        { path: 'second.csv', kind: 'points' as const, columns: {}, yieldColumns: [], ...second },
      ],
    });

    it.each([
      ['two machines', { machine: 'old' }, { machine: 'new' }, ['machineLinesUp']],
      [
        'two operators of one machine',
        { machine: 'old', operator: 'x' },
        { machine: 'old', operator: 'y' },
        ['operatorLinesUp'],
      ],
      ['two days said', { day: 'Monday' }, { day: 'Friday' }, ['dayLinesUp', 'fileLinesUp']],
      ['one machine alone said', { machine: 'old' }, {}, ['fileLinesUp']],
    ])('%s', (_, first, second, expected) => {
      expect(codes(harvestPoints(said(first, second), files))).toEqual(expected);
    });

    it('dates of the clock tell days through all files; a shift past midnight is one day', () => {
      const at = (startS: number, file: (typeof files)[number]) => ({ ...file, startS });
      const noon = Date.UTC(2026, 7, 1, 12) / 1000;
      const apart = [at(noon, files[0]), at(noon + 86_400, files[1])];
      expect(codes(harvestPoints(trial, apart))).toEqual(['dayLinesUp', 'fileLinesUp']);
      const evening = Date.UTC(2026, 7, 1, 23, 50) / 1000;
      const lastS = 400 * 4;
      const through = [at(evening, files[0]), at(evening + lastS, files[1])];
      const outcome = harvestPoints(trial, through);
      expect(new Set(unwrap(outcome).conditions.day).size).toBe(1);
      expect(codes(outcome)).toEqual(['fileLinesUp']);
    });
  });

  it('machine, operator and date by columns of one file, point by point and also where rows are out of order', () => {
    const rows = strips.flatMap((s) => pass(12 * s + 6, 400 * s, s % 4 < 2 ? 'north' : 'south'));
    const stripOf = rows.map(({ eastM }) => Math.floor(eastM / 12));
    const labels = (nameOf: (s: number) => number) => ({
      names: ['first', 'second'],
      of: Int16Array.from(stripOf, nameOf),
    });
    const file = {
      ...pointsFile(rows),
      machine: labels((s) => s % 2),
      operator: labels(() => 0),
      day: labels((s) => s % 2),
    };
    expect(codes(harvestPoints(trial, [file]))).toEqual(['machineLinesUp', 'dayLinesUp']);
    const byBlock = { ...file, machine: labels((s) => Number(s >= 4)), day: null };
    expect(codes(harvestPoints(trial, [byBlock]))).toEqual([]);

    const turned = Array.from(rows.keys()).reverse();
    const reversed = {
      ...pointsFile(turned.map((i) => rows[i]!)),
      machine: { names: ['first', 'second'], of: Int16Array.from(turned, (i) => stripOf[i]! % 2) },
    };
    const { conditions } = unwrap(harvestPoints(trial, [reversed]));
    expect(conditions.machine).toEqual(strips.map((s) => (s % 2 === 0 ? 'first' : 'second')));
    expect(conditions.onlyMachine).toEqual(conditions.machine);
  });

  it('a strip that two machines shared has none of its own', () => {
    const rows = strips.flatMap((s) => pass(12 * s + 6, 400 * s, 'north'));
    const of = Int16Array.from(rows, ({ eastM, northM }) =>
      Number(eastM > 48 || (eastM > 36 && northM > 150)),
    );
    const { conditions } = unwrap(
      harvestPoints(trial, [{ ...pointsFile(rows), machine: { names: ['a', 'b'], of } }]),
    );
    expect(conditions.onlyMachine).toEqual(['a', 'a', 'a', null, 'b', 'b', 'b', 'b']);
  });

  it('nothing, in a trial without replication', () => {
    const nobody = [null, null];
    const none = { direction: nobody, machine: nobody, operator: nobody, day: nobody, file: nobody };
    const conditions = {
      ...none,
      direction: ['along', 'against'],
      file: ['a', 'b'],
      day: ['a 0', 'b 0'],
      daysAreKnown: false,
      onlyMachine: nobody,
    };
    expect(liningUp(trialOf(2, 12), conditions)).toEqual([]);
    expect(harvestConditions(trialOf(2, 12), [])).toEqual({
      ...none,
      daysAreKnown: true,
      onlyMachine: nobody,
    });
  });
});
