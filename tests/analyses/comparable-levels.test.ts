import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparableLevels } from '../../analyses/comparable-levels.ts';
import type { FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';

function factorOf(id: string, levels: readonly number[]): FactorTerm {
  const known = [...new Set(levels)].sort((a, b) => a - b);
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((own) => known.indexOf(own)),
    levelCount: known.length,
  };
}

/** Rank of a matrix of integers, exactly: elimination without fractions (Bareiss 1968, Math. Comp. 22:565-578). */
function exactRank(rows: readonly (readonly number[])[]): number {
  const matrix = rows.map((row) => row.map(BigInt));
  let [rank, before] = [0, 1n];
  for (let column = 0; column < (matrix[0]?.length ?? 0) && rank < matrix.length; column++) {
    const pivot = matrix.findIndex((row, i) => i >= rank && row[column] !== 0n);
    if (pivot < 0) continue;
    [matrix[rank], matrix[pivot]] = [matrix[pivot]!, matrix[rank]!];
    const top = matrix[rank]!;
    for (const row of matrix.slice(rank + 1)) {
      const own = row[column]!;
      for (let k = 0; k < row.length; k++) row[k] = (top[column]! * row[k]! - own * top[k]!) / before;
    }
    before = top[column]!;
    rank += 1;
  }
  return rank;
}

/** By the definition: the contrast of two levels lies in the row space of the over-parametrised model. */
function byRowSpace(factor: FactorTerm, others: readonly ModelTerm[]): number[][] {
  const dummies = (term: ModelTerm, plot: number) => {
    if (term.kind === 'covariate') return [term.valueOfPlot[plot]!];
    if (term.kind !== 'factor') throw new Error('not needed here');
    return Array.from({ length: term.levelCount }, (_, level) => Number(term.levelOfPlot[plot] === level));
  };
  const rows = factor.levelOfPlot.map((_, plot) => [
    ...dummies(factor, plot),
    1,
    ...others.flatMap((other) => dummies(other, plot)),
  ]);
  const rank = exactRank(rows);
  const groups: number[][] = [];
  for (let level = 0; level < factor.levelCount; level++) {
    const isWith = ([first]: number[]) => {
      const contrast = rows[0]!.map((_, k) => Number(k === first) - Number(k === level));
      return exactRank([...rows, contrast]) === rank;
    };
    const group = groups.find(isWith);
    if (group === undefined) groups.push([level]);
    else group.push(level);
  }
  return groups;
}

describe('levels that can be compared among themselves', () => {
  it('are the groups that shared blocks link (John and Williams 1995, ch. 1)', () => {
    const treatment = factorOf('t', [0, 1, 0, 2, 3, 4, 3, 4, 5]);
    const block = factorOf('block', [0, 0, 1, 1, 2, 2, 3, 3, 4]);
    expect(comparableLevels(treatment, [block])).toEqual([[0, 1, 2], [3, 4], [5]]);
    expect(comparableLevels(treatment, [])).toEqual([[0, 1, 2, 3, 4, 5]]);
  });

  it('are those that a covariate does not keep apart: it is the same for the treatments of one half', () => {
    const covariate: ModelTerm = { kind: 'covariate', id: 'x', valueOfPlot: [1, 1, 2, 2, 1, 1, 2, 2] };
    const treatment = factorOf('t', [0, 1, 2, 3, 0, 1, 2, 3]);
    expect(comparableLevels(treatment, [covariate])).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  it('are the classes of the exact rank law, for designs of rows and columns at random', () => {
    const plot = fc.tuple(fc.nat(4), fc.nat(3), fc.nat(3));
    let apart = 0;
    fc.assert(
      fc.property(fc.array(plot, { minLength: 3, maxLength: 14 }), (plots) => {
        const treatment = factorOf(
          't',
          plots.map(([t]) => t),
        );
        const others = [
          factorOf(
            'row',
            plots.map(([, row]) => row),
          ),
          factorOf(
            'column',
            plots.map(([, , column]) => column),
          ),
        ];
        const expected = byRowSpace(treatment, others);
        expect(comparableLevels(treatment, others)).toEqual(expected);
        if (expected.length > 1 && expected.length < treatment.levelCount) apart += 1;
      }),
      { seed: 7, numRuns: 300 },
    );
    // Both kinds were met.
    expect(apart).toBeGreaterThan(20);
  });
});
