import { compensatedDot } from './compensated-sum.ts';
import { tTwoSidedP } from './distributions/t.ts';
import type { Pair } from './paired-t.ts';
import { type Refusal, refuse } from './refusal.ts';
import { roundingSumOfSquares } from './rounding-noise.ts';
import { aboutMean } from './variance-groups.ts';

export interface PitmanMorgan {
  readonly completePairs: number;
  /** Of sums and differences of the pairs; positive where the first treatment varies more. */
  readonly correlation: number;
  /** null where the correlation is full: one of the two does not vary at all; p is then 0. */
  readonly t: number | null;
  readonly df: number;
  readonly p: number;
}

const FEWEST_PAIRS = 3;
/** What rounding leaves of 1 - correlation^2 when the correlation is full. */
const FULL_CORRELATION_REST = 1e-14;

/**
 * Pitman and Morgan's test: do two treatments that share blocks have one variance?
 *
 * Var(a) = Var(b) exactly when a + b and a - b are uncorrelated, so it is the test of that correlation; tests for
 * independent groups do not fit, since values of one block go together.
 *
 * @param pairs - one a block; incomplete ones are left out
 * @returns the result, or a refusal: `nonFiniteValue` {pair}, `noCompletePair` {completePairs, needed} below three,
 * `noErrorVariation` when the sums or the differences do not vary
 * Source: E. J. G. Pitman (1939) Biometrika 31:9-12; W. A. Morgan (1939) Biometrika 31:13-19.
 */
export function pitmanMorgan(pairs: readonly Pair[]): PitmanMorgan | Refusal {
  const pair = pairs.findIndex(({ a, b }) => !Number.isFinite(a ?? 0) || !Number.isFinite(b ?? 0));
  if (pair >= 0) return refuse('nonFiniteValue', { pair });
  const complete = pairs.flatMap(({ a, b }) => (a === null || b === null ? [] : [{ a, b }]));
  const n = complete.length;
  if (n < FEWEST_PAIRS) return refuse('noCompletePair', { completePairs: n, needed: FEWEST_PAIRS });
  const sums = aboutMean(complete.map(({ a, b }) => a + b));
  const differences = aboutMean(complete.map(({ a, b }) => a - b));
  const squares = [sums, differences].map((values) => compensatedDot(values, values)) as [number, number];
  const noise = 2 * roundingSumOfSquares(complete.flatMap(({ a, b }) => [a, b]));
  if (squares[0] <= noise || squares[1] <= noise) return refuse('noErrorVariation', { completePairs: n });
  const correlation = compensatedDot(sums, differences) / Math.sqrt(squares[0] * squares[1]);
  const df = n - 2;
  const rest = (1 - correlation) * (1 + correlation);
  if (rest <= FULL_CORRELATION_REST) return { completePairs: n, correlation, t: null, df, p: 0 };
  const t = correlation * Math.sqrt(df / rest);
  return { completePairs: n, correlation, t, df, p: tTwoSidedP(t, df) };
}
