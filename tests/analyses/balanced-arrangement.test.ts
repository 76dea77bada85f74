import { describe, expect, it } from 'vitest';
import { balancedArrangement } from '../../analyses/balanced-arrangement.ts';

/** How often each mix of levels of some settings occurs. */
function mixes(runs: readonly (readonly number[])[], settings: readonly number[]): readonly number[] {
  const counts = new Map<string, number>();
  for (const run of runs) {
    const key = settings.map((k) => run[k]).join(' ');
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts.values()];
}

describe('a balanced arrangement of settings', () => {
  const runs = balancedArrangement(3, 11).map(({ ofThree, ofTwo }) => [...ofThree, ...ofTwo]);
  const [threes, twos] = [[0, 1, 2], Array.from({ length: 11 }, (_, k) => k + 3)];

  it('shows any two settings in all pairs of their levels equally often: an orthogonal array of strength 2', () => {
    expect(runs.length).toBe(9 * 12);
    expect(runs[0]).toEqual(runs[0]?.map(() => 0));
    for (const a of [...threes, ...twos])
      for (const b of [...threes, ...twos].filter((other) => other > a)) {
        const pairs = (a < 3 ? 3 : 2) * (b < 3 ? 3 : 2);
        expect(mixes(runs, [a, b])).toEqual(Array.from({ length: pairs }, () => runs.length / pairs));
      }
  });

  it('shows any three settings of two levels in all their mixes (Box and Tyssedal 1996: projectivity 3)', () => {
    for (const a of twos)
      for (const b of twos.filter((other) => other > a))
        for (const c of twos.filter((other) => other > b)) expect(mixes(runs, [a, b, c]).length).toBe(8);
  });

  it('is a Hadamard matrix of order 12 in its settings of two levels (Plackett and Burman 1946)', () => {
    const signs = runs.slice(0, 12).map((run) => [1, ...run.slice(3).map((level) => 2 * level - 1)]);
    signs.forEach((a, i) => {
      signs.forEach((b, j) => {
        expect(a.reduce((sum, sign, k) => sum + sign * b[k]!, 0)).toBe(i === j ? 12 : 0);
      });
    });
  });

  it('mixes fewer settings fully, and refuses more than fit', () => {
    expect(balancedArrangement(1, 2).length).toBe(36);
    expect(balancedArrangement(0, 9).length).toBe(12);
    expect(() => balancedArrangement(5, 2)).toThrow('got 5');
    expect(() => balancedArrangement(3, 12)).toThrow('12 of two');
  });
});
