/**
 * What an estimated standard deviation is on average, as a share of the true one: below 1, the more so the fewer df.
 *
 * sqrt(2 / df) gamma((df + 1) / 2) / gamma(df / 2), the mean of a chi variate over sqrt df; the ratio of gammas by
 * g(df + 2) = g(df) (df + 1) / df from g(1) = 1 / sqrt pi and g(2) = sqrt pi / 2.
 *
 * @param df - whole, at least 1
 * @example meanShareOfDeviation(4) // 0.9399856, the constant c4 of control charts for samples of 5
 */
export function meanShareOfDeviation(df: number): number {
  if (!(Number.isInteger(df) && df >= 1))
    throw new RangeError(`df: expected a whole number from 1, got ${df}`);
  let from = df % 2 === 1 ? 1 : 2;
  let ratio = from === 1 ? 1 / Math.sqrt(Math.PI) : Math.sqrt(Math.PI) / 2;
  for (; from < df; from += 2) ratio *= (from + 1) / from;
  return Math.sqrt(2 / df) * ratio;
}
