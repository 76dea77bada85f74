import { describe, expect, it } from 'vitest';
import { withOtherResponses } from '../../src/harvest/hand-beside-monitor.ts';
import { harvestHandTables } from '../../src/harvest/hand-tables.ts';
import { harvestHand } from '../../src/harvest/harvest-hand.ts';
import type { HandHarvestInput, HandSampleInput } from '../../src/harvest/harvest-input.ts';
import { HARVEST_ASSUMPTION_CODES, HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import type { YieldColumnAnswers } from '../../src/trial/trial-document.ts';
import { ALREADY_STANDARD, trialOfStrips } from './field-of-strips.ts';
import { handSamples } from './hand-samples.ts';

/** Four strips; standard moisture 15 %. */
const TRIAL = trialOfStrips(4, 12, 300);
const IDS = TRIAL.strips.map(({ id }) => id);
const WET = { ...ALREADY_STANDARD, moistureBasis: 'wet' } as const;

function table(
  file: string,
  rows: readonly Partial<HandSampleInput>[],
  otherResponses: HandHarvestInput['otherResponses'] = [],
  yieldColumn: YieldColumnAnswers = ALREADY_STANDARD,
): HandHarvestInput {
  return { file, samples: handSamples(rows), otherResponses, yieldColumn };
}

const weights = IDS.map((strip, s) => ({ strip, weightKg: 10 + s, areaM2: 20 }));
const PROTEIN = [{ name: 'Protein (%)', unit: '%' }];
const proteins = IDS.map((strip, s) => ({ strip, others: { 'Protein (%)': 11 + s } }));

function together(...tables: readonly HandHarvestInput[]) {
  const outcome = harvestHandTables(TRIAL, tables);
  for (const { code, details } of outcome.problems)
    expect(Object.keys(details), code).toEqual([
      ...HARVEST_PROBLEM_CODES[code as keyof typeof HARVEST_PROBLEM_CODES],
    ]);
  if (!outcome.ok) return { codes: outcome.problems.map(({ code }) => code), value: null };
  for (const { code, details } of outcome.value.assumptions)
    expect(Object.keys(details), code).toEqual([...HARVEST_ASSUMPTION_CODES[code]]);
  return { codes: outcome.problems.map(({ code }) => code), value: outcome.value };
}

describe('several tables of one trial', () => {
  const joined = table(
    'all.csv',
    weights.map((row, s) => ({ ...row, others: proteins[s]!.others })),
    PROTEIN,
  );

  it('that carry other responses say what one table with all columns says, in whatever order', () => {
    const whole = harvestHand(TRIAL, joined);
    for (const tables of [
      [table('w.csv', weights), table('p.csv', proteins, PROTEIN)],
      [table('p.csv', proteins, PROTEIN), table('w.csv', weights)],
    ]) {
      const { value, codes } = together(...tables);
      expect(codes).toEqual([]);
      expect(whole.ok && whole.value.strips).toEqual(value!.strips);
      expect(whole.ok && whole.value.responses).toEqual(value!.responses);
    }
  });

  it('that carry other strips say what one table with all rows says', () => {
    const { value, codes } = together(
      table('east.csv', weights.slice(0, 2)),
      table('west.csv', weights.slice(2)),
    );
    const whole = harvestHand(TRIAL, table('all.csv', weights));
    expect(codes).toEqual([]);
    expect(whole.ok && whole.value.strips).toEqual(value!.strips);
    const short = together(table('east.csv', weights.slice(0, 1)), table('west.csv', weights.slice(2)));
    expect(short.codes).toEqual(['handStripsWithoutYield']);
  });

  it('that give one strip unlike values, or two units, are refused; the same value twice is not', () => {
    const other = weights.map((row) => (row.strip === 's2' ? { ...row, weightKg: 12 } : row));
    const refused = harvestHandTables(TRIAL, [table('a.csv', weights), table('b.csv', other)]);
    expect(refused.ok).toBe(false);
    expect(refused.problems.at(-1)).toMatchObject({
      code: 'handTablesContradict',
      file: 'b.csv',
      details: { response: 'yield', first: 'a.csv', strips: ['s2'], count: 1 },
    });
    const same = together(table('a.csv', weights), table('b.csv', weights.slice(0, 1)));
    expect(same.value?.strips[0]?.values.yield).toBeCloseTo(5000, 9);
    const perKilo = [{ name: 'Protein (%)', unit: 'g/kg' }];
    const units = together(table('a.csv', proteins, PROTEIN), table('b.csv', proteins, perKilo));
    expect(units.codes).toEqual(['handUnitsDiffer']);
  });

  it('of which one has the moisture bring the other’s weights to standard by it', () => {
    const moist = IDS.map((strip, s) => ({ strip, moisturePercent: 14 + s }));
    const { value } = together(table('w.csv', weights, [], WET), table('m.csv', moist));
    // By definition: wet yield x (100 - m) / (100 - 15).
    value!.strips.forEach(({ values }, s) => {
      expect(values.yield).toBeCloseTo(((10 + s) / 20) * 10_000 * ((86 - s) / 85), 9);
      expect(values.moisture).toBeCloseTo(14 + s, 12);
    });
    expect(value!.assumptions.map(({ code }) => code)).toContain('handMoistureFromOther');
    // Yields said to be at standard stay as they are.
    const dry = together(table('w.csv', weights), table('m.csv', moist));
    expect(dry.value?.strips[0]?.values.yield).toBeCloseTo(5000, 9);
  });

  it('beside a monitor add what they hold besides yield', () => {
    const monitor = {
      strips: IDS.map((strip, s) => ({ ...stripOf(strip), values: { yield: 7000 + s } })),
      responses: [{ name: 'yield', quantity: 'yield', unit: null } as const],
      assumptions: [],
    };
    const found = withOtherResponses(TRIAL, monitor, [table('p.csv', proteins, PROTEIN), joined]);
    expect(found.ok && found.value.strips.map(({ values }) => values)).toEqual(
      IDS.map((_, s) => ({ yield: 7000 + s, 'Protein (%)': 11 + s })),
    );
  });
});

describe('ratios to a mass, of several samples a strip', () => {
  const sampled = (name: string, unit: string | null, weighed: boolean) =>
    together(
      table(
        't.csv',
        [
          { strip: 's1', weightKg: weighed ? 1 : null, areaM2: 1, others: { [name]: 10 } },
          { strip: 's1', weightKg: weighed ? 3 : null, areaM2: 1, others: { [name]: 14 } },
          { strip: 's2', others: { [name]: 12 } },
        ],
        [{ name, unit }],
      ),
    ).value!;
  const codes = (value: ReturnType<typeof sampled>) => value.assumptions.map(({ code }) => code);

  it('are mass over mass where each sample was weighed: 0.1 kg and 0.42 kg in 4 kg are 13 %', () => {
    for (const name of ['Protein (%)', 'Rohprotein', 'Öl (%)']) {
      const value = sampled(name, name.includes('%') ? '%' : null, true);
      expect(value.strips[0]!.values[name]).toBeCloseTo(13, 12);
      expect(value.strips[1]!.values[name]).toBe(12);
      expect(codes(value)).toEqual(['handMeansByMass']);
    }
  });

  it('of mass over volume are all mass over all volume: 4 kg in 1/10 + 3/14 hl', () => {
    const value = sampled('Test weight (kg/hl)', 'kg/hl', true);
    expect(value.strips[0]!.values['Test weight (kg/hl)']).toBeCloseTo(4 / (1 / 10 + 3 / 14), 12);
  });

  it('are plain means where not every sample was, which is said; other responses are plain and say nothing', () => {
    const unweighed = sampled('Protein (%)', '%', false);
    expect(unweighed.strips[0]!.values['Protein (%)']).toBe(12);
    expect(codes(unweighed)).toEqual(['handMeansPlain']);
    for (const [name, unit] of [
      ['Height (cm)', 'cm'],
      ['Lodging (%)', '%'],
      ['Nitrogen applied (kg/ha)', 'kg/ha'],
    ] as const) {
      const value = sampled(name, unit, true);
      expect(value.strips[0]!.values[name]).toBe(12);
      expect(codes(value)).toEqual([]);
    }
  });
});

function stripOf(strip: string) {
  return {
    strip,
    areaM2: null,
    harvestedAreaM2: null,
    pointsRead: 5,
    pointsKept: 5,
    pointsSetAside: {},
    subSamples: null,
    cvWithinPercent: null,
  };
}
