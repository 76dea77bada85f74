import type { PassNumbering } from './trial-document.ts';

/** Receivers and readings move the middle of a pass by less than this. */
const ALIKE_M = 2;

/** Do two numberings speak of the same passes? By files, count, the edge of number 1 and the way from first to last. */
export function isSameNumbering(one: PassNumbering | null, other: PassNumbering | null): boolean {
  if (one === null || other === null) return false;
  return (
    one.count === other.count &&
    one.from === other.from &&
    Math.abs(one.acrossM - other.acrossM) < ALIKE_M &&
    JSON.stringify([...one.files].sort()) === JSON.stringify([...other.files].sort())
  );
}
