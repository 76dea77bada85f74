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
  const usual = signal === null ? null : medianOf(signal.filter((value) => value > 0));
  if (signal === null || usual === null) return new Uint8Array(input.count).fill(1);
  return Uint8Array.from(signal, (value) => (value >= CUTTING_SHARE * usual ? 1 : 0));
}
