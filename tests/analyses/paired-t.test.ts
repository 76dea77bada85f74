import { describe, expect, it } from 'vitest';
import { twoOneSidedTests } from '../../analyses/equivalence.ts';
import { type Pair, pairedT } from '../../analyses/paired-t.ts';
import { accepted, expectRelative, fixtureExpected, fixtureTable, refusalOf } from './fixture-data.ts';

interface PairedExample {
  readonly computed: {
    readonly n: number;
    readonly mean_diff: number;
    readonly sd_diff: number;
    readonly t: number;
    readonly df: number;
    readonly p: number;
    readonly ci95: readonly [number, number];
    readonly ci90: readonly [number, number];
    readonly tost: Readonly<
      Record<
        string,
        {
          readonly margin: number;
          readonly p_lower: number;
          readonly p_upper: number;
          readonly p_tost: number;
        }
      >
    >;
  };
}

const cases = [
  ['student-sleep', 'drug1', 'drug2'],
  ['shoe-wear', 'A', 'B'],
  ['darwin-maize', 'cross', 'self'],
  ['wilcoxon-depression', 'x', 'y'],
] as const;

function pairsOf(name: string, a: string, b: string): Pair[] {
  return fixtureTable(`${name}/data.csv`).map((row) => ({ a: Number(row[a]), b: Number(row[b]) }));
}

describe('paired t and two one-sided tests (R 4.2.2; sources in fixtures)', () => {
  it.each(cases)('%s', (name, a, b) => {
    const { computed } = fixtureExpected<PairedExample>(name);
    const got = accepted(pairedT(pairsOf(name, a, b), 0.05));
    expect([got.completePairs, got.df]).toEqual([computed.n, computed.df]);
    expectRelative(got.meanDifference, computed.mean_diff, 1e-12);
    expectRelative(got.standardDeviation, computed.sd_diff, 1e-12);
    expectRelative(got.t, computed.t, 1e-10);
    expectRelative(got.p, computed.p, 1e-10);
    expectRelative(got.lower, computed.ci95[0], 1e-10);
    expectRelative(got.upper, computed.ci95[1], 1e-10);
    const wider = accepted(pairedT(pairsOf(name, a, b), 0.1));
    expectRelative(wider.lower, computed.ci90[0], 1e-10);
    const estimate = { difference: got.meanDifference, standardError: got.standardError, df: got.df };
    for (const { margin, p_lower, p_upper, p_tost } of Object.values(computed.tost)) {
      const tested = accepted(twoOneSidedTests(estimate, margin, 0.05));
      expectRelative(tested.pLower, p_lower, 1e-10);
      expectRelative(tested.pUpper, p_upper, 1e-10);
      expectRelative(tested.p, p_tost, 1e-10);
      expect(tested.equivalent).toBe(p_tost < 0.05);
      expectRelative(tested.lower, computed.ci90[0], 1e-10);
    }
  });

  it('sleep, to the digits printed (R documentation; from memory)', () => {
    const got = accepted(pairedT(pairsOf('student-sleep', 'drug1', 'drug2'), 0.05));
    expect([got.t.toFixed(4), got.p.toFixed(6)]).toEqual(['-4.0621', '0.002833']);
    expect([got.lower.toFixed(7), got.upper.toFixed(7)]).toEqual(['-2.4598858', '-0.7001142']);
  });
});

describe('incomplete pairs and refusals', () => {
  const lost: Pair[] = [
    { a: 5, b: 3 },
    { a: null, b: 4 },
    { a: 7, b: 4 },
    { a: 6, b: null },
  ];

  it('leaves an incomplete pair out and shows it', () => {
    const got = accepted(pairedT(lost, 0.05));
    expect(got.differences).toEqual([2, null, 3, null]);
    expect([got.completePairs, got.df, got.meanDifference]).toEqual([2, 1, 2.5]);
  });

  it('refuses fewer than two complete pairs', () => {
    expect(refusalOf(pairedT(lost.slice(0, 2), 0.05))).toMatchObject({
      code: 'noCompletePair',
      details: { completePairs: 1, needed: 2 },
    });
  });

  it('refuses differences that are equal but for rounding', () => {
    const same: Pair[] = [
      { a: 0.3, b: 0.1 },
      { a: 1.2, b: 1 },
    ];
    expect(refusalOf(pairedT(same, 0.05)).code).toBe('noErrorVariation');
  });

  it('refuses infinity and alpha out of range', () => {
    expect(refusalOf(pairedT([...lost, { a: Number.POSITIVE_INFINITY, b: 1 }], 0.05))).toMatchObject({
      code: 'nonFiniteValue',
      details: { pair: 4 },
    });
    expect(refusalOf(pairedT(lost, 0.7)).code).toBe('alphaOutOfRange');
    expect(refusalOf(twoOneSidedTests({ difference: 1, standardError: 1, df: 3 }, 1, 0)).code).toBe(
      'alphaOutOfRange',
    );
  });

  it('a margin must be positive', () => {
    expect(() => twoOneSidedTests({ difference: 1, standardError: 1, df: 3 }, 0, 0.05)).toThrow('got 0');
    expect(() => twoOneSidedTests({ difference: 1, standardError: 0, df: 3 }, 1, 0.05)).toThrow('got 0');
  });
});
