import { describe, expect, it } from 'vitest';
import type { ApplicationInput } from '../../src/harvest/application-input.ts';
import { appliedPolygonsNote } from '../../src/harvest/applied-polygons.ts';
import { type AsApplied, asApplied } from '../../src/harvest/as-applied.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { harvestVariants } from '../../src/harvest/harvest-variants.ts';
import { trialAsItLies } from '../../src/trial/layout-as-it-lies.ts';
import type { ApplicationFile, Treatment, TrialDocument } from '../../src/trial/trial-document.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import {
  AS_IT_LIES,
  geographic,
  NO_SCREENS,
  type Place,
  pointsFile,
  trialOfStrips,
  withSettings,
} from './field-of-strips.ts';

const STRIPS = 8;
const WIDTH_M = 12;
const LENGTH_M = 300;
const ASKED: ApplicationFile = { path: 'log.csv', columns: {}, swathM: null, products: [] };

/** A sprayed stretch of a strip: up its middle, a point every 2 m, as wide as the strip unless said otherwise. */
interface Pass {
  readonly strip: number;
  readonly product?: string;
  readonly fromM?: number;
  readonly toM?: number;
  readonly rate?: number;
  readonly widthM?: number;
  readonly asideM?: number;
}

function logOf(passes: readonly Pass[], place: Place = AS_IT_LIES, jitterM = 0): ApplicationInput {
  const random = seededRandom(7);
  const rows = passes.flatMap((pass, k) => {
    const { strip, product = 'treatment B', fromM = 0, toM = LENGTH_M, rate = 150, asideM = 0 } = pass;
    const count = Math.round((toM - fromM) / 2);
    return Array.from({ length: count }, (_, t) => ({
      at: geographic(
        strip * WIDTH_M + 6 + asideM + random.between(-jitterM, jitterM),
        fromM + 2 * t + random.between(-jitterM, jitterM),
        place,
      ),
      time: k * 1000 + t,
      product,
      rate,
      widthM: pass.widthM ?? WIDTH_M,
    }));
  });
  const products = [...new Set(rows.map(({ product }) => product))];
  return {
    file: 'log.csv',
    count: rows.length,
    ground: {
      kind: 'points',
      longitude: Float64Array.from(rows, ({ at }) => at[0]),
      latitude: Float64Array.from(rows, ({ at }) => at[1]),
      widthM: Float64Array.from(rows, ({ widthM }) => widthM),
      timeS: Float64Array.from(rows, ({ time }) => time),
    },
    rate: Float64Array.from(rows, ({ rate }) => rate),
    rateUnit: 'L/ha',
    products,
    product: Int32Array.from(rows, ({ product }) => products.indexOf(product)),
    applied: Uint8Array.from(rows, ({ rate }) => (rate > 0 ? 1 : 0)),
  };
}

/** Strips 2, 4, 6, 8 are treatment B, the others the check. */
const ALL_SPRAYED: readonly Pass[] = [1, 3, 5, 7].map((strip) => ({ strip }));
const except = (strip: number, ...instead: readonly Pass[]) => [
  ...ALL_SPRAYED.filter((pass) => pass.strip !== strip),
  ...instead,
];

function trial(place: Place = AS_IT_LIES, treatments: Partial<Treatment>[] = []): TrialDocument {
  const plain = withSettings(trialOfStrips(STRIPS, WIDTH_M, LENGTH_M, place), NO_SCREENS);
  return { ...plain, treatments: plain.treatments.map((one, t) => ({ ...one, ...treatments[t] })) };
}

function judged(passes: readonly Pass[], of = trial(), asked = ASKED, place: Place = AS_IT_LIES) {
  return judgedLog(of, logOf(passes, place), asked);
}

function judgedLog(of: TrialDocument, log: ApplicationInput, asked = ASKED) {
  const { found, problems } = asApplied(of, [{ asked, log }]);
  if (found === null) throw new Error(JSON.stringify(problems));
  return { ...found, problems, codes: problems.map(({ code }) => code) };
}

const shares = ({ strips }: AsApplied) => strips.map((strip) => strip?.coveredShare ?? null);

describe('a log laid over the strips', () => {
  it('covers what was sprayed, asks nothing of the check, and has nothing to say', () => {
    const found = judged(ALL_SPRAYED);
    for (const [s, share] of shares(found).entries()) {
      if (s % 2 === 0) expect(share).toBeNull();
      else expect(share).toBeCloseTo(1, 6);
    }
    expect(found.strips[1]?.rate?.mean).toBeCloseTo(150, 9);
    expect(found.strips[1]?.rate?.cvPercent).toBeCloseTo(0, 6);
    expect(found.offPlan.flat()).toEqual([]);
    expect(found.codes).toEqual([]);
  });

  it('finds a stretch that was skipped, and the share that is left is that of the ground', () => {
    const found = judged(except(3, { strip: 3, toM: 100 }, { strip: 3, fromM: 130 }));
    // 30 of 300 m, the swath's last step apart: the machine logged its last "on" at 98 m and stopped 2 m on.
    expect(found.strips[3]?.coveredShare).toBeCloseTo(0.9, 4);
    expect(found.strips[3]?.skipped).toHaveLength(1);
    expect(found.strips[3]?.skipped[0]?.fromM).toBeCloseTo(100, 3);
    expect(found.strips[3]?.skipped[0]?.toM).toBeCloseTo(130, 3);
    expect(found.codes).toEqual(['stretchesSkipped']);
  });

  it('puts the ground as far back as the boom lies behind the antenna, whichever way it was driven', () => {
    // The antenna is 6 m ahead of a boom that was shut from 100 to 130 m along the strip.
    const north = { strip: 3, fromM: 136 };
    const passes = except(3, { strip: 3, fromM: 6, toM: 106 }, { ...north, toM: 306 });
    const [first] = judged(passes, trial(), { ...ASKED, boomBehindM: 6 }).strips[3]!.skipped;
    expect(first?.fromM).toBeCloseTo(100, 3);
    expect(first?.toM).toBeCloseTo(130, 3);
    const around: Place = (eastM, northM) => [STRIPS * WIDTH_M - eastM, LENGTH_M - northM];
    const log = logOf(passes, around);
    const of = trial(around);
    const { found } = asApplied(of, [{ asked: { ...ASKED, boomBehindM: 6 }, log }]);
    expect(found?.strips[3]?.skippedM).toBeCloseTo(30, 3);
  });

  it('says which strip got what another was to get, and does not use it', () => {
    const products = { treatments: ['treatment C', 'treatment B'] };
    const three = {
      ...trial(),
      treatments: [
        ...trial().treatments,
        { ...trial().treatments[1]!, id: 'C', name: products.treatments[0]! },
      ],
    };
    const strips = three.strips.map((strip, s) => (s === 5 ? { ...strip, treatment: 'C' } : strip));
    const found = judged(ALL_SPRAYED, { ...three, strips });
    const said = found.problems.find(({ code }) => code === 'stripGotAnother');
    expect(said?.details).toMatchObject({
      strip: 's6',
      planned: 'treatment C',
      product: 'treatment B',
      treatments: ['treatment B'],
    });
    expect(found.offPlan[5]?.[0]?.toM).toBeCloseTo(LENGTH_M / 2, 3);
    // The log holds nothing of treatment C at all, which is said too.
    expect(found.codes).toContain('noLogOfTreatment');
  });

  it('says it when something was put on a strip that was to get nothing', () => {
    const found = judged([...ALL_SPRAYED, { strip: 2, fromM: 200, toM: 240 }]);
    expect(found.strips[2]?.coveredShare).toBeNull();
    expect(found.strips[2]?.otherShare).toBeCloseTo(40 / 300, 3);
    expect(found.codes).toContain('appliedWithoutPlan');
    expect(found.offPlan[2]?.[0]?.fromM).toBeCloseTo(200 - 150, 3);
  });

  it('says a wholly bare strip, a double pass, a rate off plan, and a swath that reaches over', () => {
    expect(judged(except(3)).codes).toEqual(['stripsNotCovered']);
    expect(judged([...ALL_SPRAYED, { strip: 3, toM: 60 }]).codes).toEqual(['coveredTwice']);
    const planned = { product: 'Test product', rate: 120, unit: 'L/ha' } as const;
    const asked = {
      ...ASKED,
      products: [{ name: 'treatment B', means: 'treatments' as const, treatments: ['B'] }],
    };
    const off = judged(ALL_SPRAYED, trial(AS_IT_LIES, [{}, { planned }]), asked);
    expect(off.codes).toEqual(['rateOffPlan']);
    // 150 for 120 L/ha.
    expect(off.problems[0]?.details.mostPercent).toBeCloseTo(25, 6);
    const wide = judged(ALL_SPRAYED.map((pass) => ({ ...pass, widthM: 14 })));
    // Each check between two treated strips has 1 m of 12 under either; at the edge of the trial under one.
    expect(wide.strips[2]?.astrayShare).toBeCloseTo(2 / 12, 3);
    expect(wide.codes).toContain('appliedWithoutPlan');
  });

  it('tells treatments that share a product apart by their rate', () => {
    const of = trial(AS_IT_LIES, [
      { isCheck: false, planned: { product: 'Feed', rate: 100, unit: 'L/ha' } },
      { planned: { product: 'Feed', rate: 200, unit: 'L/ha' } },
    ]);
    const rates = [100, 200, 100, 100, 100, 200, 100, 205];
    const found = judged(
      rates.map((rate, strip) => ({ strip, rate, product: 'feed' })),
      of,
    );
    expect(found.codes).toEqual(['stripGotAnotherRate']);
    expect(found.problems[0]?.details).toMatchObject({ strip: 's4', treatments: ['treatment A'] });
    expect(found.offPlan.map((cut) => cut.length)).toEqual([0, 0, 0, 1, 0, 0, 0, 0]);
  });

  it('never compares a volume with a mass, nor spray liquid with product, and says so', () => {
    const rateOf = (rate: number, unit: 'kg/ha' | 'L/ha') =>
      judged(ALL_SPRAYED, trial(AS_IT_LIES, [{}, { planned: { product: null, rate, unit } }]));
    const mass = rateOf(150, 'kg/ha');
    expect(mass.codes).toEqual(['rateUnitsDiffer']);
    expect(mass.problems[0]?.details).toMatchObject({ logged: 'L/ha', planned: 'kg/ha' });
    // 150 L/ha of spray liquid against 2 L/ha of product.
    const liquid = rateOf(2, 'L/ha');
    expect(liquid.codes).toEqual(['rateOfAnotherKind']);
    expect(liquid.problems[0]?.details.factor).toBe(75);
    expect(rateOf(150, 'L/ha').codes).toEqual([]);
  });

  it('compares seeds per hectare with a plan in seeds, and with nothing else', () => {
    const drilled = ALL_SPRAYED.map((pass, k) => ({ ...pass, rate: k === 0 ? 70_000 : 80_000 }));
    const found = (unit: 'seeds/ha' | 'kg/ha', rate: number) => {
      const of = trial(AS_IT_LIES, [{}, { planned: { product: null, rate, unit } }]);
      return judgedLog(of, { ...logOf(drilled), rateUnit: 'seeds/ha' });
    };
    const seeds = found('seeds/ha', 80_000);
    expect(seeds.codes).toEqual(['rateOffPlan']);
    expect(seeds.problems[0]?.details).toMatchObject({ count: 1, mostPercent: 12.5 });
    expect(found('kg/ha', 20).problems[0]?.details).toMatchObject({ logged: 'seeds/ha', planned: 'kg/ha' });
  });

  it('holds rates against the plan by the tolerance that was chosen', () => {
    const planned = { product: null, rate: 140, unit: 'L/ha' } as const;
    // 150 for 140 L/ha is 7.1 % too much.
    const within = trial(AS_IT_LIES, [{}, { planned }]);
    expect(judged(ALL_SPRAYED, within).codes).toEqual([]);
    const strict = judged(ALL_SPRAYED, withSettings(within, { rateTolerancePercent: 5 }));
    expect(strict.codes).toEqual(['rateOffPlan']);
    expect(strict.problems[0]?.details.mostPercent).toBeCloseTo(7.14, 9);
  });

  it('a tank mix is known in any order, and by its parts, each of which is then asked for', () => {
    const planned = { product: 'Alpha 250 + Beta', rate: 150, unit: 'L/ha' } as const;
    const of = trial(AS_IT_LIES, [{}, { planned }]);
    const put = (...products: string[]) =>
      judged(
        products.flatMap((product) => ALL_SPRAYED.map((pass) => ({ ...pass, product }))),
        of,
      );
    expect(put('beta+ALPHA 250').codes).toEqual([]);
    expect(put('beta+ALPHA 250').strips[1]?.rate?.mean).toBeCloseTo(150, 9);
    const parts = put('Alpha 250', 'Beta');
    // Each part at the rate of the whole, or two parts of one rate: that is not told.
    expect(parts.codes).toEqual(['mixRateNotTold']);
    expect(parts.strips[1]?.rate).toBeNull();
    expect(put('Alpha 250').problems).toMatchObject([
      { code: 'noLogOfPart', details: { treatments: ['treatment B'], products: ['Beta'] } },
    ]);
    // A mix is not a product of it: what was to get Alpha alone did not.
    const alone = trial(AS_IT_LIES, [{}, { planned: { ...planned, product: 'Alpha 250' } }]);
    const mixed = ALL_SPRAYED.map((pass) => ({ ...pass, product: 'Alpha 250 + Beta' }));
    expect(judged(mixed, alone).codes).toEqual(['askProductMeaning']);
  });

  it('a mix logged tank by tank is held against the plan by the sum of its parts', () => {
    const planned = { product: 'Alpha + Beta', rate: 5, unit: 'L/ha' } as const;
    const of = trial(AS_IT_LIES, [{}, { planned }]);
    const tank = (product: string, rates: readonly number[], rateUnit: 'L/ha' | 'kg/ha' = 'L/ha') => ({
      ...logOf(ALL_SPRAYED.map((pass, k) => ({ ...pass, product, rate: rates[k]! }))),
      rateUnit,
    });
    const laid = (...logs: ApplicationInput[]) =>
      asApplied(
        of,
        logs.map((log) => ({ asked: ASKED, log })),
      );
    const sum = laid(tank('alpha', [3, 3, 3, 3]), tank('beta', [2, 2, 1, 2]));
    expect(sum.found?.strips.map((strip) => strip?.rate?.mean ?? null)).toEqual(
      [null, 5, null, 5, null, 4, null, 5].map((mean) => mean && expect.closeTo(mean, 9)),
    );
    expect(sum.problems).toMatchObject([{ code: 'rateOffPlan', details: { count: 1, mostPercent: 20 } }]);
    const unlike = laid(tank('alpha', [3, 3, 3, 3]), tank('beta', [2, 2, 2, 2], 'kg/ha'));
    expect(unlike.problems.map(({ code }) => code)).toEqual(['mixRateNotTold']);
  });

  it('comes to the same from two products row by row as from a log of each, and from rows that repeat a place', () => {
    const both = (name: string) => ({ name, means: 'treatments' as const, treatments: ['B'] });
    const asked = { ...ASKED, products: [both('Early'), both('Late')] };
    const passes = except(5, { strip: 5, fromM: 60 });
    const [early, late] = ['Early', 'Late'].map((product) =>
      logOf(passes.map((pass) => ({ ...pass, product }))),
    );
    const apart = asApplied(
      trial(),
      [early!, late!].map((log) => ({ asked, log })),
    );
    /** Each entry twice, as another product or as itself once more. */
    const doubled = (products: readonly string[]): ApplicationInput => {
      const { ground, rate, count, file, rateUnit } = early!;
      if (ground.kind !== 'points') throw new Error('points expected');
      const twice = (column: Float64Array) =>
        Float64Array.from({ length: 2 * count }, (_, i) => column[i >> 1]!);
      return {
        ...{ file, rateUnit, count: 2 * count, rate: twice(rate!), products },
        ground: {
          kind: 'points',
          longitude: twice(ground.longitude),
          latitude: twice(ground.latitude),
          widthM: twice(ground.widthM),
          timeS: twice(ground.timeS!),
        },
        product: Int32Array.from({ length: 2 * count }, (_, i) => (products.length > 1 ? i % 2 : 0)),
        applied: new Uint8Array(2 * count).fill(1),
      };
    };
    const together = asApplied(trial(), [{ asked, log: doubled(['Early', 'Late']) }]);
    expect(together.problems).toEqual(apart.problems);
    expect(together.found?.strips).toEqual(apart.found?.strips);
    const once = asApplied(trial(), [{ asked, log: early! }]);
    expect(asApplied(trial(), [{ asked, log: doubled(['Early']) }]).found?.strips).toEqual(
      once.found?.strips,
    );
  });

  it('comes to the same in any order of the logs', () => {
    const of = trial(AS_IT_LIES, [
      { isCheck: false, planned: { product: 'Feed', rate: 100, unit: 'L/ha' } },
      { planned: { product: 'Feed + Beta', rate: 200, unit: 'L/ha' } },
    ]);
    const feed = Array.from({ length: STRIPS }, (_, strip) => ({
      strip,
      product: 'Feed',
      toM: 80,
      rate: 100 + 3 * strip,
    }));
    const beta = except(5, { strip: 5, fromM: 80 }).map((pass) => ({ ...pass, product: 'Beta', rate: 7 }));
    const stray = [{ strip: 2, product: 'Other', fromM: 40, toM: 60, asideM: 2, widthM: 9 }];
    const asked = { ...ASKED, products: [{ name: 'Other', means: 'stray' as const, treatments: [] }] };
    const logs = [feed, beta, stray, [{ strip: 1, product: 'Feed', toM: 40, widthM: 7 }]].map(
      (passes, k) => ({
        asked,
        log: { ...logOf(passes), file: `log-${k}.csv` },
      }),
    );
    const first = asApplied(of, logs);
    expect(new Set(first.problems.map(({ code }) => code)).size).toBeGreaterThan(2);
    for (const order of [
      [3, 2, 1, 0],
      [1, 3, 0, 2],
    ]) {
      const other = asApplied(
        of,
        order.map((k) => logs[k]!),
      );
      expect(other.problems).toEqual(first.problems);
      expect(other.found?.offPlan).toEqual(first.found?.offPlan);
      first.found?.strips.forEach((strip, s) => {
        const again = other.found?.strips[s];
        for (const key of ['coveredShare', 'twiceShare', 'otherShare', 'astrayShare', 'skippedM'] as const)
          expect(again?.[key] ?? -1).toBeCloseTo(strip?.[key] ?? -1, 9);
        expect(again?.rate?.mean ?? -1).toBeCloseTo(strip?.rate?.mean ?? -1, 9);
        expect(again?.others.map(({ productName }) => productName)).toEqual(
          strip?.others.map(({ productName }) => productName),
        );
      });
    }
  });

  it('asks what an unknown product means, and leaves its rows out until it is said', () => {
    const passes = [...ALL_SPRAYED, { strip: 0, product: 'Mystery' }];
    const found = judged(passes);
    expect(found.codes).toEqual(['askProductMeaning']);
    expect(found.strips[0]?.otherShare).toBeCloseTo(0, 6);
    const said = (means: 'apart' | 'stray') =>
      judged(passes, trial(), { ...ASKED, products: [{ name: 'Mystery', means, treatments: [] }] });
    expect(said('apart').codes).toEqual([]);
    expect(said('stray').codes).toEqual(['stripGotAnother']);
  });

  it('asks of a treatment that gets two products that it got both', () => {
    const both = (name: string) => ({ name, means: 'treatments' as const, treatments: ['B'] });
    const asked = { ...ASKED, products: [both('Early'), both('Late')] };
    const early = ALL_SPRAYED.map((pass) => ({ ...pass, product: 'Early' }));
    const late = except(5, { strip: 5, fromM: 60 }).map((pass) => ({ ...pass, product: 'Late' }));
    const found = judged([...early, ...late], trial(), asked);
    expect(found.codes).toEqual(['stretchesSkipped']);
    expect(shares(found).map((share) => share?.toFixed(3))).toEqual([
      ...[undefined, '1.000', undefined, '1.000', undefined, '0.800', undefined, '1.000'],
    ]);
    // The same product under two names, each in half of the blocks: either will do.
    const halves = ALL_SPRAYED.map((pass, k) => ({ ...pass, product: k < 2 ? 'Early' : 'Late' }));
    expect(judged(halves, trial(), asked).codes).toEqual([]);
  });

  it('takes a log without products for the only treatment that was to get something, and says so', () => {
    const found = judged(ALL_SPRAYED.map((pass) => ({ ...pass, product: '' })));
    expect(found.codes).toEqual(['productTakenFor']);
    expect(found.strips[1]?.coveredShare).toBeCloseTo(1, 6);
  });

  it('comes to the same wherever the field lies and however it is turned', () => {
    const passes = except(3, { strip: 3, toM: 100, asideM: 0.7 }, { strip: 3, fromM: 131, widthM: 9 });
    const straight = judged(passes);
    for (const degrees of [10, 90, 137, 200, 313]) {
      const angle = (degrees * Math.PI) / 180;
      const place: Place = (east, north) => [
        east * Math.cos(angle) - north * Math.sin(angle) + 500,
        east * Math.sin(angle) + north * Math.cos(angle) - 900,
      ];
      const around = judged(passes, trial(place), ASKED, place);
      expect(around.codes).toEqual(straight.codes);
      straight.strips.forEach((strip, s) => {
        // Through degrees and back; the projection itself draws lengths out by up to 1e-8 this far from its origin.
        expect(around.strips[s]?.coveredShare ?? -1).toBeCloseTo(strip?.coveredShare ?? -1, 6);
        expect(around.strips[s]?.otherShare).toBeCloseTo(strip?.otherShare ?? -1, 6);
        expect(around.strips[s]?.skippedM).toBeCloseTo(strip?.skippedM ?? -1, 3);
      });
    }
  });

  it('leaves no gap between the points of a receiver that jitters', () => {
    const of = trial();
    const passes = ALL_SPRAYED.map((pass) => ({ ...pass, fromM: -4, toM: 304 }));
    const { found } = asApplied(of, [{ asked: ASKED, log: logOf(passes, AS_IT_LIES, 0.25) }]);
    // Half a side margin of ground is all that the jitter may lay bare.
    for (const s of [1, 3, 5, 7]) expect(found?.strips[s]?.coveredShare).toBeGreaterThan(0.97);
    expect(found?.offPlan.flat()).toEqual([]);
  });

  it('comes to the same from areas as from points, and in any order of rows', () => {
    const passes = except(3, { strip: 3, toM: 100 }, { strip: 3, fromM: 130 });
    const points = judged(passes);
    const areas: ApplicationInput = {
      ...logOf(passes),
      count: passes.length,
      ground: {
        kind: 'areas',
        polygons: passes.map(({ strip, fromM = 0, toM = LENGTH_M }) => {
          const [west, east] = [strip * WIDTH_M, (strip + 1) * WIDTH_M];
          const ring = [
            [west, fromM],
            [east, fromM],
            [east, toM],
            [west, toM],
            [west, fromM],
          ].map(([x, y]) => geographic(x!, y!));
          return { type: 'Polygon' as const, coordinates: [ring] };
        }),
      },
      rate: new Float64Array(passes.length).fill(150),
      product: new Int32Array(passes.length),
      applied: new Uint8Array(passes.length).fill(1),
    };
    const drawn = asApplied(trial(), [{ asked: ASKED, log: areas }]).found;
    for (const [s, share] of shares(points).entries()) {
      expect(drawn?.strips[s]?.coveredShare ?? -1).toBeCloseTo(share ?? -1, 4);
    }
    const log = logOf(passes);
    const order = Array.from({ length: log.count }, (_, i) => i).sort(
      (a, b) => Math.sin(a * 7.3) - Math.sin(b * 7.3),
    );
    const pick = (column: Float64Array) => Float64Array.from(order, (row) => column[row]!);
    if (log.ground.kind !== 'points') throw new Error('points expected');
    const shuffled: ApplicationInput = {
      ...log,
      ground: {
        kind: 'points',
        longitude: pick(log.ground.longitude),
        latitude: pick(log.ground.latitude),
        widthM: pick(log.ground.widthM),
        timeS: pick(log.ground.timeS!),
      },
      rate: pick(log.rate!),
    };
    const again = asApplied(trial(), [{ asked: ASKED, log: shuffled }]).found;
    expect(again && shares(again)).toEqual(shares(points));
  });

  it('names areas whose outline crosses itself, and a log of another field', () => {
    const bow = [
      [0, 0],
      [12, 300],
      [12, 0],
      [0, 300],
      [0, 0],
    ].map(([x, y]) => geographic(x!, y!));
    const crossed = asApplied(trial(), [
      {
        asked: ASKED,
        log: {
          ...logOf([{ strip: 1 }]),
          ground: { kind: 'areas', polygons: [{ type: 'Polygon', coordinates: [bow] }] },
          count: 1,
          product: new Int32Array(1),
          applied: Uint8Array.of(1),
          rate: null,
          rateUnit: null,
        },
      },
    ]);
    expect(crossed.problems.map(({ code }) => code)).toContain('areasCrossThemselves');
    const far: Place = (east, north) => [east + 5000, north];
    const away = asApplied(trial(), [{ asked: ASKED, log: logOf(ALL_SPRAYED, far) }]);
    const said = away.problems.find(({ code }) => code === 'logOnNoStrip');
    expect(Number(said?.details.distanceKm)).toBeGreaterThan(4.5);
  });
});

describe('what is not covered is not used', () => {
  /** Yields are the same everywhere but in the skipped stretch, so that the strip's value shows whether it was used. */
  const points = pointsFile(
    Array.from({ length: STRIPS * 150 }, (_, k) => {
      const [strip, t] = [Math.floor(k / 150), k % 150];
      const isSkipped = strip === 3 && t >= 50 && t < 65;
      return {
        eastM: strip * WIDTH_M + 6,
        northM: 1 + 2 * t,
        timeS: strip * 1000 + t,
        distanceM: 2,
        widthM: 9,
        yieldKgPerHa: isSkipped ? 3000 : 6000,
      };
    }),
  );
  const skipping = judged(except(3, { strip: 3, toM: 100 }, { strip: 3, fromM: 130 }));
  const offPlan = {
    stretches: skipping.offPlan,
    isAsked: skipping.strips.map((strip) => strip?.coveredShare != null),
  };
  const harvested = (used: typeof offPlan | null, of = trial()) => {
    const outcome = harvestPoints(of, [points], undefined, undefined, used);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    return { ...outcome.value, codes: outcome.problems.map(({ code }) => code) };
  };

  it('its points are set aside by a reason of their own, and the strip stands on what is left', () => {
    const [before, after] = [harvested(null), harvested(offPlan)];
    const strip = after.strips[3]!;
    // Footprints of 2 m that reach into 100 to 130 m: points at 101 to 131 m, 16 of them.
    expect(strip.pointsSetAside.appliedOtherwise).toBe(16);
    expect(strip.values.yield).toBeCloseTo(6000, 9);
    expect(before.strips[3]?.values.yield).toBeLessThan(5800);
    expect(strip.harvestedAreaM2).toBeCloseTo((before.strips[3]?.harvestedAreaM2 ?? 0) - 16 * 18, 6);
    expect(strip.pointsRead).toBe(before.strips[3]?.pointsRead);
    after.strips.forEach((other, s) => {
      if (s !== 3) expect(other).toEqual(before.strips[s]);
    });
  });

  it('and every cleaning of the grid leaves them out too', () => {
    const of = trial();
    const own = harvestVariants(of, [points], offPlan)?.(of.harvest);
    expect(own).toEqual(harvested(offPlan).strips.map(({ values }) => values.yield));
  });

  it('is tested for balance among treatments of which coverage is asked', () => {
    // Two treatments are sprayed; all strips of B lose a third, those of A nothing.
    const of = { ...trial(), treatments: trial().treatments.map((one) => ({ ...one, isCheck: false })) };
    const passes = Array.from({ length: STRIPS }, (_, strip) => ({
      strip,
      product: strip % 2 === 0 ? 'treatment A' : 'treatment B',
      toM: strip % 2 === 0 ? LENGTH_M : 200,
    }));
    const found = judged(passes, of);
    const uneven = { stretches: found.offPlan, isAsked: found.strips.map(() => true) };
    expect(harvested(uneven, of).codes).toContain('offPlanByTreatment');
    // With a check that was to get nothing there is no second treatment to compare with.
    const checked = { ...uneven, isAsked: found.strips.map((_, s) => s % 2 === 1) };
    expect(harvested(checked, of).codes).not.toContain('offPlanByTreatment');
  });
});

describe('outlines as applied', () => {
  it('win over those of the plan, and their distance is said', () => {
    const planned = trial();
    const moved = trial((east, north) => [east + 3, north + 4]);
    const strips = planned.strips.map((strip, s) => {
      const appliedPolygon = moved.strips[s]?.polygon ?? null;
      return s === 1 ? { ...strip, appliedPolygon } : strip;
    });
    const [note] = appliedPolygonsNote({ ...planned, strips });
    // A shift of 3 m east and 4 m north is one of 5 m.
    expect(note?.details.mostM).toBeCloseTo(5, 4);
    const shifted = judged(
      [{ strip: 1, asideM: 3, fromM: 4, toM: 304 }],
      trialAsItLies({ ...planned, strips }),
    );
    expect(shifted.strips[1]?.coveredShare).toBeCloseTo(1, 4);
    expect(
      judged([{ strip: 1, asideM: 3, fromM: 4, toM: 304 }], planned).strips[1]?.coveredShare,
    ).toBeLessThan(0.8);
    expect(appliedPolygonsNote(planned)).toEqual([]);
  });
});
