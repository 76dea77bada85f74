import { describe, expect, it } from 'vitest';
import { type HarvestConditions, liningUp } from '../../src/harvest/lining-up.ts';
import { partlyLinedUp } from '../../src/harvest/partly-lined-up.ts';
import { wentWithTreatment } from '../../src/words/weakening-sentences.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { trialOfStrips } from './field-of-strips.ts';

/** Treatments A and B in turn, two strips a block; conditions are laid over them strip by strip. */
const BLOCKS = 4;
const TRIAL = trialOfStrips(2 * BLOCKS, 12, 100);
const NOBODY = TRIAL.strips.map(() => null);
const CONDITIONS = ['direction', 'machine', 'operator', 'day', 'file'] as const;

function said(name: (typeof CONDITIONS)[number], levels: readonly (string | null)[]) {
  const none = { direction: NOBODY, machine: NOBODY, operator: NOBODY, day: NOBODY, file: NOBODY };
  const conditions: HarvestConditions = { ...none, [name]: levels, daysAreKnown: true, onlyMachine: NOBODY };
  return liningUp(TRIAL, conditions).map(({ code }) => code);
}
/** Levels by block, the first for A, the second for B. */
const by = (...pairs: readonly string[]) => pairs.flatMap((pair) => [...pair]);

describe('each condition of the harvest', () => {
  it.each(CONDITIONS)(
    '%s: warned where it goes with the treatment, wholly or half, and not where with blocks',
    (name) => {
      expect(said(name, by('xy', 'xy', 'xy', 'xy'))).toEqual([`${name}LinesUp`]);
      // Three strips of A and one of B by x: the effect of x counts half in their difference.
      expect(said(name, by('xy', 'xy', 'xx', 'yy'))).toEqual([`${name}PartlyLinesUp`]);
      expect(said(name, by('xx', 'xx', 'yy', 'yy'))).toEqual([]);
      expect(said(name, by('xx', 'yy', 'zz', 'xx'))).toEqual([]);
      // Within blocks, but as often one way as the other.
      expect(said(name, by('xy', 'yx', 'xy', 'yx'))).toEqual([]);
      // One strip out of its block is no pattern yet.
      expect(said(name, by('xx', 'xx', 'yy', 'yx'))).toEqual([]);
      expect(said(name, NOBODY)).toEqual([]);
      for (const code of [`${name}LinesUp`, `${name}PartlyLinesUp`])
        expect(wentWithTreatment(code)).toMatch(/went (?:partly )?with the treatment/);
    },
  );

  it('says the shares of strips', () => {
    expect(partlyLinedUp(TRIAL, by('xy', 'xy', 'xx', 'yy'))).toMatchObject({
      level: 'x',
      most: 'treatment A',
      mostPercent: 75,
      least: 'treatment B',
      leastPercent: 25,
    });
  });

  it('the share is the squared correlation of treatment and level within blocks (computed from sums)', () => {
    const random = seededRandom(77);
    for (let trial = 0; trial < 40; trial += 1) {
      const levels = TRIAL.strips.map(() => (random.chance(0.5) ? 'x' : 'y'));
      const differences = Array.from(
        { length: BLOCKS },
        (_, b) => Number(levels[2 * b] === 'x') - Number(levels[2 * b + 1] === 'x'),
      );
      const sum = differences.reduce((a, d) => a + d, 0);
      const squares = differences.reduce((a, d) => a + d * d, 0);
      const expected = squares === 0 ? 0 : sum ** 2 / (BLOCKS * squares);
      const found = partlyLinedUp(TRIAL, levels);
      // Levels of one strip are not looked at, and the other level then has the same share.
      if (new Set(levels).size < 2 || expected < 0.5) expect(found).toBe(null);
      else expect(found!.share).toBeCloseTo(expected, 12);
    }
  });

  it('strips driven back and forth at random order within blocks seldom warn: 2 in 16 trials of four blocks, counted', () => {
    let warned = 0;
    for (let order = 0; order < 16; order += 1) {
      const levels = Array.from({ length: BLOCKS }, (_, b) => ((order >> b) % 2 === 0 ? 'xy' : 'yx'));
      if (said('direction', by(...levels)).length > 0) warned += 1;
    }
    expect(warned).toBe(2);
  });
});
