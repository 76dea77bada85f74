import type { ScreenedFile } from './strip-sums.ts';

/**
 * The yield of each strip (kg/ha, null: none) as `stripValues` gives it, by the same sums in the same order, without all
 * else that it tells: asked a hundred times over, that would be half of the time.
 */
export function stripYields(files: readonly ScreenedFile[], strips: number): readonly (number | null)[] {
  const isByArea = files.every(({ file }) => file.ground.kind !== 'equal');
  const weight = new Float64Array(strips);
  const weighted = new Float64Array(strips);
  for (const { file, reason } of files) {
    const { strip, yieldAtStandardKgPerHa: values, ground } = file;
    for (let i = 0; i < reason.length; i++) {
      const index = strip[i]!;
      if (reason[i] !== 0 || index < 0) continue;
      const own = isByArea ? ground.ground[i]! : 1;
      weight[index]! += own;
      weighted[index]! += own * values[i]!;
    }
  }
  return Array.from(weight, (sum, index) => (sum > 0 ? weighted[index]! / sum : null));
}
