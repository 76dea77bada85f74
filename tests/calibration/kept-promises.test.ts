import { describe, expect, it } from 'vitest';
import { type CellResult, holds, resultOf } from './cell-result.ts';
import {
  type Cell,
  falseRealCells,
  lostStripCells,
  powerCells,
  strainedCells,
  verdictCells,
} from './cells.ts';
import { label } from './counted-trials.ts';

/**
 * The short form of `npm run calibrate`: the same cells, claims and seeds on fewer designs and trials. Each claim is
 * judged at z = 4.5, and on ten times as many trials of the same seed where it fails.
 */
const TRIALS = 1500;
/** A standard error of 0.0035. */
const TRIALS_FOR_POWER = 20_000;

function broken({ cell, rates, trials }: CellResult): string[] {
  return rates
    .filter((rate) => !rate.holds)
    .map(
      ({ what, share, claim }) =>
        `${cell.group}, ${cell.treatments} treatments, ${cell.blocks} blocks, ${trials} trials: ${what} is ${share}, claimed ${claim?.rule} ${claim?.share}`,
    );
}

const named = (cells: readonly Cell[]) =>
  cells.map((cell) => ({
    name: `${cell.group}, ${cell.treatments} treatments, ${cell.blocks} blocks`,
    cell,
  }));

const shareOf = ({ rates }: CellResult, what: string) =>
  rates.find((rate) => rate.what === what)?.share ?? Number.NaN;

describe('promises kept by simulated trials (seeded)', () => {
  const sound = [
    ...falseRealCells([
      [2, 3],
      [3, 4],
      [5, 3],
    ]),
    ...lostStripCells().filter(({ treatments }) => treatments === 3),
  ];
  it.each(named(sound))('false Reals and intervals: $name', ({ cell }) => {
    expect(broken(resultOf(cell, TRIALS))).toEqual([]);
  });

  const verdicts = verdictCells().filter(
    ({ treatments, blocks, margin }) => treatments === 2 && blocks === 8 && margin !== 2,
  );
  it.each(named(verdicts))('verdicts: $name', ({ cell }) => {
    expect(broken(resultOf(cell, TRIALS))).toEqual([]);
  });

  it('power within 0.01 of the computed', () => {
    const cells = powerCells().filter(({ treatments, blocks }) => treatments === 2 && blocks === 4);
    const cell = cells.find(({ group }) => group.includes('of 3 standard errors'));
    expect(broken(resultOf(cell!, TRIALS_FOR_POWER))).toEqual([]);
  });

  it('a trend in A B A B order misleads, and is seen to', () => {
    const steep = strainedCells().filter(
      ({ treatments, blocks, trendPerStrip }) => treatments === 2 && blocks === 8 && trendPerStrip > 0.2,
    );
    const shares = steep.map((cell) => [
      cell.order,
      shareOf(resultOf(cell, TRIALS), label('false real: lsd, all pairs', 0.05)),
    ]);
    const byOrder = Object.fromEntries(shares) as Readonly<Record<Cell['order'], number>>;
    expect(byOrder.randomised).toBeLessThan(0.08);
    expect(byOrder.same).toBeGreaterThan(0.1);
  });

  it('the bounds bite from both sides', () => {
    const exact = { rule: 'exactly', share: 0.05 } as const;
    expect([0, 0.04, 0.05, 0.06].map((share) => holds(exact, share, 20_000))).toEqual([
      false,
      false,
      true,
      false,
    ]);
    expect(holds({ rule: 'atMost', share: 0.05 }, 0, 20_000)).toBe(true);
    expect(holds({ rule: 'atMost', share: 0.05 }, 0.06, 20_000)).toBe(false);
    expect(holds({ rule: 'atLeast', share: 0.95 }, 0.94, 20_000)).toBe(false);
    expect(holds({ rule: 'near', share: 0.8 }, 0.811, 20_000)).toBe(false);
  });
});
