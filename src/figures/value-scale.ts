/** A straight scale from values to pixels, with round tick marks. `toPx` is monotone by construction. */
export interface ValueScale {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** Decimals that tell the ticks apart. */
  readonly decimals: number;
  readonly toPx: (value: number) => number;
}

const STEPS = [1, 2, 5, 10];

/**
 * Covers all values with a little air; ends are round. `fromPx` may lie beyond `toPx` (a vertical axis).
 * A single value gets a scale around it.
 */
export function valueScale(
  values: readonly number[],
  fromPx: number,
  toPx: number,
  wantedTicks: number,
): ValueScale {
  if (values.length === 0) throw new RangeError('valueScale: expected at least one value, got none');
  let smallest = values[0] ?? 0;
  let largest = smallest;
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`valueScale: expected finite values, got ${value}`);
    smallest = Math.min(smallest, value);
    largest = Math.max(largest, value);
  }
  const spread = largest - smallest;
  const air = spread > 0 ? spread * 0.06 : Math.max(Math.abs(largest) * 0.05, 1e-6);
  return scaleBetween(smallest - air, largest + air, fromPx, toPx, wantedTicks);
}

function scaleBetween(low: number, high: number, fromPx: number, toPx: number, wanted: number): ValueScale {
  const step = roundStep((high - low) / Math.max(1, wanted));
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  const ticks = Array.from({ length: Math.max(0, last - first) + 1 }, (_, index) => (first + index) * step);
  return {
    low,
    high,
    ticks,
    decimals: Math.max(0, Math.min(12, -Math.floor(Math.log10(step) + 1e-9))),
    toPx: (value) => fromPx + ((value - low) / (high - low)) * (toPx - fromPx),
  };
}

/** The smallest of 1, 2, 5 times a power of ten that is not below `wanted`. */
export function roundStep(wanted: number): number {
  const power = 10 ** Math.floor(Math.log10(wanted));
  const factor = STEPS.find((candidate) => candidate * power >= wanted * (1 - 1e-9)) ?? 10;
  return factor * power;
}
