import { describe, expect, it } from 'vitest';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import type { StripValue } from '../../src/harvest/strip-values.ts';
import type { Strip } from '../../src/trial/trial-document.ts';
import { onlyResponse, stripsInput, stripTrial } from './report-inputs.ts';
import { reportOfText } from './table-questions.ts';

const TABLE = [
  'product,rep,yield',
  ...[
    [5.1, 6.2, 5.9],
    [4.8, 6.3, 5.1],
    [5.6, 6.4, 6.2],
    [5.0, 5.9, 5.7],
  ].flatMap((values, block) => values.map((value, i) => `${'ABC'[i]},${block + 1},${value}`)),
].join('\n');
const asked = { treatment: 'product', block: 'rep', responses: ['yield'] };
const contrasts = [
  [
    { treatment: 'B', weight: 1 },
    { treatment: 'A', weight: -1 },
  ],
  [
    { treatment: 'A', weight: -1 },
    { treatment: 'B', weight: 0.5 },
    { treatment: 'C', weight: 0.5 },
  ],
];

describe('contrasts among the comparisons', () => {
  it('of two treatments are their LSD row; of several add up from them (algebra)', () => {
    const { comparisons } = onlyResponse(reportOfText(TABLE, { ...asked, contrasts }));
    const lsd = (a: string) =>
      comparisons.find((row) => row.procedure === 'lsd' && row.a === a && row.b === 'A')!;
    const [pair, mean] = comparisons.filter(({ procedure }) => procedure === 'contrast');
    expect(pair).toEqual({ ...lsd('B'), procedure: 'contrast' });
    expect(mean).toMatchObject({ a: '0.5 B + 0.5 C', b: 'A' });
    expect(mean!.difference).toBeCloseTo((lsd('B').difference + lsd('C').difference) / 2, 12);
  });
});

describe('what the blocks brought', () => {
  it('is what the formula of Gomez & Gomez (1984), section 2.2.3, makes of the table of variance', () => {
    const { anova, blocking } = onlyResponse(reportOfText(TABLE, asked));
    const ms = (source: string) => anova.find((row) => row.source === source)!.ms!;
    const [r, t] = [4, 3];
    const expected = ((r - 1) * ms('block') + r * (t - 1) * ms('error')) / ((r * t - 1) * ms('error'));
    expect(blocking!.relativeEfficiency).toBeCloseTo(expected, 12);
    expect(onlyResponse(reportOfText(TABLE, { ...asked, block: null })).blocking).toBeNull();
  });
});

describe('pairs by ranks', () => {
  it('add up to nothing around a circle, and are there for complete blocks of three or more alone', () => {
    const { rankedPairs } = onlyResponse(reportOfText(TABLE, asked));
    const of = (a: string, b: string) =>
      rankedPairs!.pairs.find((row) => row.a === a && row.b === b)!.difference;
    expect(of('C', 'B') + of('B', 'A') - of('C', 'A')).toBe(0);
    const two = TABLE.split('\n').filter((line) => !line.startsWith('C'));
    expect(onlyResponse(reportOfText(two.join('\n'), asked)).rankedPairs).toBeNull();
  });
});

describe('the nearest of several checks', () => {
  it('makes the pairs of a paired comparison (by hand)', () => {
    // In each block: check, product, other, check; the product lies beside the first check.
    const values = [
      { check: 5.0, product: 6.0, other: 5.4, far: 9.0 },
      { check: 5.2, product: 5.9, other: 5.1, far: 1.0 },
      { check: 4.9, product: 6.3, other: 5.6, far: 7.0 },
    ];
    const { trial } = stripTrial({ check: [1, 2, 3], product: [1, 2, 3], other: [1, 2, 3] });
    const strips: Strip[] = [];
    const measured: StripValue[] = [];
    values.forEach(({ check, product, other, far }, block) => {
      [
        ['check', check],
        ['product', product],
        ['other', other],
        ['check', far],
      ].forEach(([treatment, value], at) => {
        const id = `${block} ${at}`;
        strips.push({
          id,
          treatment: String(treatment),
          block: `b${block}`,
          place: 4 * block + at + 1,
          polygon: null,
        });
        measured.push({ ...BARE, strip: id, values: { yield: 1000 * Number(value) } });
      });
    });
    const response = onlyResponse(
      reportFromStrips(stripsInput({ trial: { ...trial, strips }, strips: measured })),
    );
    const paired = response.comparisons.find((row) => row.procedure === 'paired' && row.a === 'product')!;
    const differences = [1.0, 0.7, 1.4];
    const mean = differences.reduce((sum, own) => sum + own / 3, 0);
    const variance = differences.reduce((sum, own) => sum + (own - mean) ** 2 / 2, 0);
    expect(paired.difference).toBeCloseTo(mean, 10);
    expect(paired.standardError).toBeCloseTo(Math.sqrt(variance / 3), 10);
    expect(paired.df).toBe(2);
  });
});

const BARE = {
  areaM2: null,
  harvestedAreaM2: null,
  pointsRead: null,
  pointsKept: null,
  pointsSetAside: {},
  subSamples: null,
  cvWithinPercent: null,
} as const;
