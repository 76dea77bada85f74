import type { DifferenceVerdict, MoneyVerdict } from './report-model.ts';

/** An interval; null where no error was left to reckon one from. */
export interface Bounds {
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * The verdict on a difference. Real: found by the deciding procedure. The same: the equivalence interval (1 - 2 alpha)
 * lies strictly inside plus or minus the margin; without a margin nothing is called the same. Without an interval
 * there is no verdict.
 */
export function differenceVerdict(
  real: boolean | null,
  equivalence: Bounds,
  margin: number | null,
): DifferenceVerdict | null {
  if (real === null) return null;
  const same =
    margin !== null &&
    equivalence.lower !== null &&
    equivalence.upper !== null &&
    equivalence.lower > -margin &&
    equivalence.upper < margin;
  if (real) return same ? 'Real, but smaller than matters' : 'Real';
  return same ? 'Same for practical purposes' : 'Not settled';
}

/** The verdict on money, whatever the first says: the whole interval above break-even, below it, or neither. */
export function moneyVerdict(interval: Bounds, breakEven: number | null): MoneyVerdict | null {
  const { lower, upper } = interval;
  if (breakEven === null || lower === null || upper === null) return null;
  if (lower > breakEven) return 'Pays';
  return upper < breakEven ? 'Does not pay' : 'May pay';
}
