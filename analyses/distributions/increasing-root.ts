const MOST_STEPS = 200;

/**
 * The positive x at which an increasing function crosses zero, to the last few bits of x.
 *
 * The bracket [low, high] is widened by doubling until it holds the root (low down towards 0, high up); then
 * inverse interpolation between the ends with Illinois weights, and bisection where that stalls.
 * The function may return -Infinity or Infinity.
 *
 * @param f - increasing on (0, infinity)
 * @param low - first guess below the root, > 0
 * @param high - first guess above the root, > low
 * @throws RangeError when no bracket is found
 */
export function increasingRoot(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  for (let step = 0; fa > 0; step++) {
    requireSteps(step);
    [b, fb] = [a, fa];
    a /= 2;
    fa = f(a);
  }
  for (let step = 0; fb < 0; step++) {
    requireSteps(step);
    [a, fa] = [b, fb];
    b *= 2;
    fb = f(b);
  }
  return narrow(f, a, b, fa, fb);
}

function narrow(f: (x: number) => number, low: number, high: number, fLow: number, fHigh: number): number {
  let [a, b, fa, fb] = [low, high, fLow, fHigh];
  let kept: 'low' | 'high' | 'neither' = 'neither';
  for (let step = 0; step < MOST_STEPS && b - a > 4 * Number.EPSILON * b; step++) {
    const interpolated = b - (fb * (b - a)) / (fb - fa);
    const inside = interpolated > a && interpolated < b && step % 4 !== 3;
    const x = inside ? interpolated : a + (b - a) / 2;
    const fx = f(x);
    if (fx === 0 || x === a || x === b) return x;
    if (fx > 0) {
      [b, fb] = [x, fx];
      if (kept === 'low') fa /= 2;
      kept = 'low';
    } else {
      [a, fa] = [x, fx];
      if (kept === 'high') fb /= 2;
      kept = 'high';
    }
  }
  return a + (b - a) / 2;
}

function requireSteps(step: number): void {
  if (step > MOST_STEPS) throw new RangeError('increasingRoot: expected a sign change, found none');
}
