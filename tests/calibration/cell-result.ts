import type { Cell } from './cells.ts';
import { type Claim, claimsOf } from './claims.ts';
import { countTrials } from './counted-trials.ts';

export interface Rate {
  readonly what: string;
  readonly share: number;
  readonly claim: Claim | null;
  /** Where there is no claim: true. */
  readonly holds: boolean;
}

export interface CellResult {
  readonly cell: Cell;
  readonly trials: number;
  readonly rates: readonly Rate[];
  /** Claims that so many trials left in doubt were given ten times as many, of the same seed. */
  readonly repeated: boolean;
}

/** Two-sided 7e-6: rare enough for a thousand claims at once. */
const Z = 4.5;
const NEAR = 0.01;
const MORE = 10;

/** Simulates a cell. A claim that fails is judged on ten times as many trials, never on another seed. */
export function resultOf(cell: Cell, trials: number): CellResult {
  const first = ratesOf(cell, trials);
  if (first.every(({ holds }) => holds)) return { cell, trials, rates: first, repeated: false };
  return { cell, trials: MORE * trials, rates: ratesOf(cell, MORE * trials), repeated: true };
}

function ratesOf(cell: Cell, trials: number): Rate[] {
  const claims = claimsOf(cell);
  const counts = countTrials(cell, trials);
  const uncounted = [...claims.keys()].filter((what) => !counts.has(what));
  if (uncounted.length > 0) throw new Error(`claims on what is not counted: ${uncounted.join('; ')}`);
  return [...counts].map(([what, count]) => {
    const share = count / trials;
    const claim = claims.get(what) ?? null;
    return { what, share, claim, holds: claim === null || holds(claim, share, trials) };
  });
}

export function holds({ rule, share: claimed }: Claim, share: number, trials: number): boolean {
  const slack = Z * Math.sqrt((claimed * (1 - claimed)) / trials);
  if (rule === 'near') return Math.abs(share - claimed) <= NEAR;
  if (rule === 'atMost') return share <= claimed + slack;
  if (rule === 'atLeast') return share >= claimed - slack;
  return Math.abs(share - claimed) <= slack;
}
