import { fUpperQuantile } from './distributions/f.ts';
import { noncentralFUpperTail } from './distributions/noncentral-f.ts';

/**
 * The chance that the F test of treatments is significant at alpha when they truly differ.
 *
 * @param noncentrality - the treatments' sum of squares if there were no error, over the error variance: replicates times
 * the sum of squared true effects / variance; at least 0
 * @param df1 - of treatments, > 0
 * @param df2 - of error, > 0
 * @param alpha - 0 < alpha < 1
 * @returns a probability; alpha itself for no difference
 * @throws RangeError when an argument lies outside these bounds
 * Source: noncentral F, see `distributions/noncentral-f.ts`.
 * @example powerOfF(5, 3, 16, 0.05) // 0.353559 (four groups of 5, variance between 1 and within 3)
 */
export function powerOfF(noncentrality: number, df1: number, df2: number, alpha: number): number {
  return noncentralFUpperTail(fUpperQuantile(alpha, df1, df2), df1, df2, noncentrality);
}
