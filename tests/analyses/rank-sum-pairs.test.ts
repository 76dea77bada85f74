import { describe, expect, it } from 'vitest';
import { normalUpperTail } from '../../analyses/distributions/normal.ts';
import { friedman } from '../../analyses/friedman.ts';
import { friedmanPairs } from '../../analyses/friedman-pairs.ts';
import { nearestCheckPairs, type PlacedStrip } from '../../analyses/nearest-check.ts';
import { pairedT } from '../../analyses/paired-t.ts';
import { accepted, expectRelative, fixtureTable, refusalOf } from './fixture-data.ts';

function orders(count: number): number[][] {
  if (count === 0) return [[]];
  return orders(count - 1).flatMap((order) =>
    Array.from({ length: count }, (_, i) => [...order.slice(0, i), count, ...order.slice(i)]),
  );
}

describe('pairs of rank sums after Friedman', () => {
  const names = ['Round_Out', 'Narrow_Angle', 'Wide_Angle'];
  const bases = fixtureTable('hollander-rounding-bases/data.csv').map((row) =>
    names.map((name) => Number(row[name])),
  );

  it('rounding first base: R (ptukey on infinite df, with the correction for ties)', () => {
    const got = accepted(friedmanPairs(bases, 0.05));
    expect(got.rankSums).toEqual([53, 47, 32]);
    // R 4.2.2: ptukey(abs(d) / sqrt(within / 2), 3, Inf, lower.tail = FALSE), within = 42 where no ties would give 44
    const want = [0.623927723607, 0.00342070539581, 0.0538041870395];
    got.pairs.forEach((pair, i) => {
      expect(Math.abs(pair.p - want[i]!), `${pair.a} ${pair.b}`).toBeLessThan(1e-9);
    });
  });

  it('without ties the least difference is q sqrt(b t (t + 1) / 12): q(.05; 3, infinity) = 3.314 (printed; from memory)', () => {
    const blocks = Array.from({ length: 10 }, (_, i) => orders(3)[i % 6]!);
    const got = accepted(friedmanPairs(blocks, 0.05));
    expect((got.leastDifference / Math.sqrt(10)).toFixed(3)).toBe('3.314');
  });

  it('the chance of a false difference in 3 to 5 blocks of 3: counted over all arrangements', () => {
    for (const [blocks, least, most] of [
      [3, 0.02, 0.05],
      [4, 0.04, 0.05],
      [5, 0.035, 0.05],
    ] as const) {
      const all = orders(3);
      const critical = accepted(
        friedmanPairs(new Array<number[]>(blocks).fill(all[0]!), 0.05),
      ).leastDifference;
      const sums = arrangements(all, blocks);
      const exceeding = sums.filter((own) => Math.max(...own) - Math.min(...own) > critical).length;
      expect(exceeding / sums.length).toBeGreaterThan(least);
      expect(exceeding / sums.length).toBeLessThan(most);
    }
  });

  it('two treatments: the sign test by the normal curve', () => {
    const got = accepted(
      friedmanPairs(
        [1, 1, 1, 1, 1, -1].map((sign) => [0, sign]),
        0.05,
      ),
    );
    expectRelative(got.pairs[0]!.p, 2 * normalUpperTail(4 / Math.sqrt(6)), 1e-10);
    const chi = accepted(friedman([1, 1, 1, 1, 1, -1].map((sign) => [0, sign])));
    expectRelative(got.pairs[0]!.p, chi.p, 1e-10);
  });

  it('least difference and p agree; refusals are those of Friedman', () => {
    const got = accepted(friedmanPairs(bases, 0.05));
    for (const pair of got.pairs) expect(Math.abs(pair.difference) > got.leastDifference).toBe(pair.p < 0.05);
    expect(refusalOf(friedmanPairs(bases, 0.9)).code).toBe('alphaOutOfRange');
    expect(refusalOf(friedmanPairs([[1, 2]], 0.05)).code).toBe('tooFewPlots');
  });
});

/** Rank sums of every arrangement, the first block held. */
function arrangements(all: readonly (readonly number[])[], blocks: number): number[][] {
  let sums = [[...all[0]!]];
  for (let block = 1; block < blocks; block++)
    sums = sums.flatMap((own) => all.map((order) => own.map((sum, i) => sum + order[i]!)));
  return sums;
}

describe('the nearest check strip', () => {
  const strip = (block: number, place: number, treatment: number, value: number | null): PlacedStrip => ({
    block,
    place,
    treatment,
    value,
  });
  // Check 0 at both ends of each block, treatments 1 and 2 between (worked by hand)
  const strips = [
    strip(0, 1, 0, 10),
    strip(0, 2, 1, 13),
    strip(0, 3, 2, 15),
    strip(0, 4, 0, 12),
    strip(1, 5, 0, 20),
    strip(1, 6, 2, 26),
    strip(1, 7, 1, 24),
    strip(1, 8, 0, null),
  ];

  it('takes the nearest in the same block, though one of another block lies nearer', () => {
    const got = nearestCheckPairs(strips, 1, 0);
    expect(got.map((row) => row.pair)).toEqual([
      { a: 13, b: 10 },
      { a: 24, b: 20 },
    ]);
    expect(got.map((row) => row.farthest)).toEqual([1, 2]);
    expect(got.map((row) => row.checks)).toEqual([[0], [4]]);
    const { meanDifference } = accepted(
      pairedT(
        nearestCheckPairs(strips, 2, 0).map((row) => row.pair),
        0.05,
      ),
    );
    expect(meanDifference).toBe((15 - 12 + 26 - 20) / 2);
  });

  it('of two equally near the mean; of several strips of a treatment one pair by their means', () => {
    const middle = [strip(0, 0.1, 0, 8), strip(0, 0.3, 1, 11), strip(0, 0.5, 0, 9)];
    expect(nearestCheckPairs(middle, 1, 0)[0]).toMatchObject({ pair: { a: 11, b: 8.5 }, checks: [0, 2] });
    const twice = [...strips.slice(0, 4), strip(0, 5, 1, 17)];
    expect(nearestCheckPairs(twice, 1, 0)[0]).toMatchObject({
      pair: { a: 15, b: 11 },
      strips: [1, 4],
      checks: [0, 3],
    });
  });

  it('a block without the treatment or without a check stays visible as no pair', () => {
    const lost = [...strips, strip(2, 9, 1, 30), strip(3, 10, 0, 31)];
    const got = nearestCheckPairs(lost, 1, 0);
    expect(got.map((row) => row.pair)).toEqual([
      { a: 13, b: 10 },
      { a: 24, b: 20 },
      { a: 30, b: null },
      { a: null, b: 31 },
    ]);
    expect(got[2]!.farthest).toBeNull();
    expect(() => nearestCheckPairs(strips, 0, 0)).toThrow('other than the check');
    expect(() => nearestCheckPairs([strip(0, Number.NaN, 1, 3)], 1, 0)).toThrow('NaN');
  });

  it('one check a block: the plain paired comparison', () => {
    const single = strips.filter((own) => own.place !== 4 && own.place !== 8);
    expect(nearestCheckPairs(single, 2, 0).map((row) => row.pair)).toEqual([
      { a: 15, b: 10 },
      { a: 26, b: 20 },
    ]);
  });
});
