import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { letterGroups } from '../../analyses/letter-groups.ts';

function decisions(levels: number, pairs: readonly (readonly [number, number])[]): boolean[][] {
  const differs = Array.from({ length: levels }, () => new Array<boolean>(levels).fill(false));
  for (const [i, j] of pairs) {
    differs[i]![j] = true;
    differs[j]![i] = true;
  }
  return differs;
}

/** Letters of one level: a letter of the alphabet with its round, where there is one. */
const lettersOf = (text: string): string[] => text.match(/[a-z]\d*/g) ?? [];

describe('letters of a table of means', () => {
  it('no difference: all share a; all differ: one letter each, from the highest down', () => {
    expect(letterGroups([3, 9, 5], decisions(3, []))).toEqual(['a', 'a', 'a']);
    const all = decisions(3, [
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    expect(letterGroups([3, 9, 5], all)).toEqual(['c', 'a', 'b']);
    expect(letterGroups([3, 9, 5], all, 'lowest')).toEqual(['a', 'c', 'b']);
  });

  it('unequal replication: a small difference can be real inside a larger one that is not', () => {
    const differs = decisions(3, [[0, 1]]);
    expect(letterGroups([9, 8, 5], differs)).toEqual(['a', 'b', 'ab']);
  });

  it('two means share a letter exactly when they do not differ; no letter is contained in another', () => {
    const anyDecisions = fc.integer({ min: 2, max: 9 }).chain((levels) =>
      fc
        .tuple(
          fc.array(fc.integer({ min: 0, max: 50 }), { minLength: levels, maxLength: levels }),
          fc.array(fc.boolean(), {
            minLength: (levels * (levels - 1)) / 2,
            maxLength: (levels * (levels - 1)) / 2,
          }),
        )
        .map(([means, bits]) => {
          let next = 0;
          const pairs: [number, number][] = [];
          for (let i = 0; i < levels; i++) for (let j = 0; j < i; j++) if (bits[next++]) pairs.push([i, j]);
          return { means, differs: decisions(levels, pairs) };
        }),
    );
    fc.assert(
      fc.property(
        anyDecisions,
        fc.constantFrom('highest' as const, 'lowest' as const),
        ({ means, differs }, best) => {
          const letters = letterGroups(means, differs, best);
          expectFaithful(letters, differs);
          const extreme = best === 'highest' ? Math.max(...means) : Math.min(...means);
          expect(means.some((mean, level) => mean === extreme && letters[level]!.startsWith('a'))).toBe(true);
        },
      ),
      { seed: 4711, numRuns: 300 },
    );
  });

  it('past z the letters start a second round', () => {
    const levels = 30;
    const pairs = Array.from({ length: levels }, (_, i) =>
      Array.from({ length: i }, (_, j) => [i, j] as const),
    ).flat();
    const letters = letterGroups(
      Array.from({ length: levels }, (_, i) => -i),
      decisions(levels, pairs),
    );
    expect(letters.slice(24)).toEqual(['y', 'z', 'a2', 'b2', 'c2', 'd2']);
  });

  it('decisions that are not symmetric throw', () => {
    const lopsided = decisions(2, []);
    lopsided[0]![1] = true;
    expect(() => letterGroups([1, 2], lopsided)).toThrow('symmetric');
    expect(() => letterGroups([1, 2, 3], decisions(2, []))).toThrow('3 x 3');
  });
});

function expectFaithful(letters: readonly string[], differs: readonly (readonly boolean[])[]): void {
  const sets = letters.map((text) => new Set(lettersOf(text)));
  const used = [...new Set(letters.flatMap(lettersOf))];
  differs.forEach((row, i) => {
    row.forEach((differ, j) => {
      if (i !== j) expect([...sets[i]!].some((letter) => sets[j]!.has(letter))).toBe(!differ);
    });
  });
  for (const one of used)
    for (const other of used)
      if (one !== other) expect(sets.some((set) => set.has(one) && !set.has(other))).toBe(true);
}
