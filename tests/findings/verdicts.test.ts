import { describe, expect, it } from 'vitest';
import { differenceVerdict, moneyVerdict } from '../../src/findings/verdicts.ts';

/** The definitions of the two statements (the project's own design), branch by branch and at the edges. */
describe('the verdict on a difference', () => {
  const inside = { lower: -0.2, upper: 0.3 };

  it.each([
    [true, inside, null, 'Real'],
    [true, { lower: 0.1, upper: 0.6 }, 0.5, 'Real'],
    [true, { lower: 0.1, upper: 0.4 }, 0.5, 'Real, but smaller than matters'],
    [true, { lower: -0.4, upper: -0.1 }, 0.5, 'Real, but smaller than matters'],
    [false, inside, 0.5, 'Same for practical purposes'],
    [false, inside, 0.25, 'Not settled'],
    [false, { lower: -0.6, upper: 0.1 }, 0.5, 'Not settled'],
    // Without a margin nothing is called the same.
    [false, inside, null, 'Not settled'],
    // An interval that touches the margin does not lie inside it.
    [false, { lower: -0.2, upper: 0.5 }, 0.5, 'Not settled'],
    [false, { lower: -0.5, upper: 0.2 }, 0.5, 'Not settled'],
    // No interval at all.
    [false, { lower: null, upper: null }, 0.5, 'Not settled'],
    [null, inside, 0.5, null],
  ] as const)('real %s, equivalence %o, margin %s: %s', (real, equivalence, margin, verdict) => {
    expect(differenceVerdict(real, equivalence, margin)).toBe(verdict);
  });
});

describe('the verdict on money', () => {
  it.each([
    [{ lower: 0.3, upper: 0.9 }, 0.2, 'Pays'],
    [{ lower: 0.3, upper: 0.9 }, 1.0, 'Does not pay'],
    [{ lower: 0.3, upper: 0.9 }, 0.5, 'May pay'],
    // On the edge neither is certain.
    [{ lower: 0.3, upper: 0.9 }, 0.3, 'May pay'],
    [{ lower: 0.3, upper: 0.9 }, 0.9, 'May pay'],
    // An unproven difference can yet certainly not pay; a saving pays even without a gain in yield.
    [{ lower: -0.1, upper: 0.2 }, 0.4, 'Does not pay'],
    [{ lower: -0.1, upper: 0.2 }, -0.3, 'Pays'],
    [{ lower: 0.3, upper: 0.9 }, null, null],
    [{ lower: null, upper: null }, 0.2, null],
  ] as const)('interval %o, break-even %s: %s', (interval, breakEven, verdict) => {
    expect(moneyVerdict(interval, breakEven)).toBe(verdict);
  });
});
