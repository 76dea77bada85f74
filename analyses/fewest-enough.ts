/**
 * The smallest whole number from `least` to `most` that is enough, where enough once means enough ever after; null when
 * `most` is not. Found by doubling, then halving.
 */
export function fewestEnough(enough: (count: number) => boolean, least: number, most: number): number | null {
  let high = least;
  let low = least - 1;
  while (!enough(high)) {
    if (high >= most) return null;
    low = high;
    high = Math.min(most, 2 * high);
  }
  while (low + 1 < high) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
