import { fUpperTail } from './f.ts';

const NEGLIGIBLE_WEIGHT = 1e-20;

/**
 * P(F > f) for the noncentral F: chi-squared on df1 with a noncentrality over an independent chi-squared on df2, each over
 * its df.
 *
 * A Poisson mixture of central tails, summed from the heaviest weight outwards; all terms are positive, so the relative
 * error is about that of the central tail.
 *
 * @param f - at least 0
 * @param df1 - numerator degrees of freedom, > 0 and finite
 * @param df2 - denominator degrees of freedom, > 0 and finite
 * @param noncentrality - at least 0 and finite: the sum of squares of the effects over the error variance
 * @throws RangeError when an argument lies outside these bounds
 * Source: N. L. Johnson, S. Kotz & N. Balakrishnan (1995) Continuous Univariate Distributions vol. 2, ch. 30.
 */
export function noncentralFUpperTail(f: number, df1: number, df2: number, noncentrality: number): number {
  if (!(noncentrality >= 0 && noncentrality < Infinity))
    throw new RangeError(
      `noncentralFUpperTail: noncentrality must be at least 0 and finite, got ${noncentrality}`,
    );
  const half = noncentrality / 2;
  if (half === 0) return fUpperTail(f, df1, df2);
  const tail = (j: number) => fUpperTail((f * df1) / (df1 + 2 * j), df1 + 2 * j, df2);
  const heaviest = Math.floor(half);
  const peak = poissonWeight(heaviest, half);
  let sum = peak * tail(heaviest);
  let weight = peak;
  for (let j = heaviest + 1; weight > NEGLIGIBLE_WEIGHT * peak; j++) {
    weight *= half / j;
    sum += weight * tail(j);
  }
  weight = peak;
  for (let j = heaviest; j > 0 && weight > NEGLIGIBLE_WEIGHT * peak; j--) {
    weight *= j / half;
    sum += weight * tail(j - 1);
  }
  // Weights of thousands of terms are rounded each; a chance is never above 1.
  return Math.min(1, sum);
}

/** exp(-mean) mean^j / j!, by logarithms term by term so that large means neither overflow nor lose digits. */
function poissonWeight(j: number, mean: number): number {
  let log = -mean;
  for (let i = 1; i <= j; i++) log += Math.log(mean / i);
  return Math.exp(log);
}
