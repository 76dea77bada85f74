import type { MeasuredFile } from './measured-file.ts';

/** A file and what was set aside of it so far: 0 is left. */
export interface LeftOfFile {
  readonly file: Pick<MeasuredFile, 'yieldAtStandardKgPerHa'>;
  readonly reason: Uint8Array;
}

/** Values are counted coarsely first; only the few near the middle are then put in order. */
const BINS = 4096;

/**
 * The middle (the lower of two) of the yields that all files have left. By counting rather than by sorting a copy,
 * which for ten million points would be what the memory runs out on. null where none is left.
 */
export function medianOfLeft(files: readonly LeftOfFile[]): number | null {
  let [least, most, count] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  eachLeft(files, (value) => {
    if (value < least) least = value;
    if (value > most) most = value;
    count += 1;
  });
  if (count === 0) return null;
  const perUnit = most > least ? BINS / (most - least) : 0;
  const binOf = (value: number) => Math.min(BINS - 1, Math.floor((value - least) * perUnit));
  const inBin = new Uint32Array(BINS);
  eachLeft(files, (value) => {
    inBin[binOf(value)]! += 1;
  });
  const middle = (count - 1) >> 1;
  let [bin, before] = [0, 0];
  while (before + inBin[bin]! <= middle) before += inBin[bin++]!;
  const near = new Float64Array(inBin[bin]!);
  let found = 0;
  eachLeft(files, (value) => {
    if (binOf(value) === bin) near[found++] = value;
  });
  return near.sort()[middle - before]!;
}

function eachLeft(files: readonly LeftOfFile[], visit: (value: number) => void): void {
  for (const { file, reason } of files) {
    const values = file.yieldAtStandardKgPerHa;
    for (let i = 0; i < values.length; i++) {
      if (reason[i] === 0 && !Number.isNaN(values[i]!)) visit(values[i]!);
    }
  }
}
