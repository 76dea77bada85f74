import type { PlacedPoints } from '../../harvest/strip-values.ts';

/** Enough to tell where the ends of the shades lie. */
const MOST_LOOKED_AT = 20_000;
/** Of the kept yields, so many at either end share the first and the last shade: a few odd ones must not take all shades. */
const END_SHARE = 0.02;

export interface YieldRange {
  readonly low: number;
  readonly high: number;
}

const KNOWN = new WeakMap<PlacedPoints, YieldRange>();

/** The kept yields, kg/ha, that the palest and the darkest shade stand for. */
export function shadedYields(points: PlacedPoints): YieldRange {
  const before = KNOWN.get(points);
  if (before !== undefined) return before;
  const range = rangeOf(points);
  KNOWN.set(points, range);
  return range;
}

function rangeOf({ reason, yieldKgPerHa }: PlacedPoints): YieldRange {
  const step = Math.max(1, Math.floor(reason.length / MOST_LOOKED_AT));
  const values: number[] = [];
  for (let i = 0; i < reason.length; i += step) {
    if (reason[i] === 0 && !Number.isNaN(yieldKgPerHa[i]!)) values.push(yieldKgPerHa[i]!);
  }
  const sorted = Float64Array.from(values).sort();
  const last = sorted.length - 1;
  const at = (share: number) => sorted[Math.round(share * last)] ?? Number.NaN;
  return { low: at(END_SHARE), high: at(1 - END_SHARE) };
}
