import type { HarvestPointsInput } from './harvest-input.ts';
import { medianOf } from './logging-interval.ts';

/** Without a header state, a machine cuts where it yields at least this share of the file's median. */
const CUTTING_SHARE = 0.2;

type Logged = Pick<HarvestPointsInput, 'count' | 'headerDown' | 'massFlowKgPerS' | 'massKg' | 'yieldKgPerHa'>;

/** Does the file say where the header was down? One whose header never goes up does not. */
export function saysHeader({ headerDown }: Pick<Logged, 'headerDown'>): boolean {
  return headerDown?.includes(0) ?? false;
}

/** 1 a point where the machine was cutting, else 0: by its header, else by what it yields. */
export function cuttingIn(input: Logged): Uint8Array {
  const { headerDown } = input;
  if (headerDown !== null && saysHeader(input)) return headerDown.map((state) => (state === 0 ? 0 : 1));
  const signal = input.massFlowKgPerS ?? input.massKg ?? input.yieldKgPerHa;
  const cutting = new Uint8Array(input.count).fill(1);
  const usual = signal === null ? null : usualOf(signal);
  if (signal === null || usual === null) return cutting;
  for (let i = 0; i < cutting.length; i++) cutting[i] = signal[i]! >= CUTTING_SHARE * usual ? 1 : 0;
  return cutting;
}

/** The median of what is above 0. */
function usualOf(signal: Float64Array): number | null {
  const positive = new Float64Array(signal.length);
  let count = 0;
  for (let i = 0; i < signal.length; i++) if (signal[i]! > 0) positive[count++] = signal[i]!;
  return medianOf(positive.subarray(0, count));
}
