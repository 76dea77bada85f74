/**
 * One measured quantity, one value a plot, kept as an origin and deviations from it: value = origin + deviation.
 *
 * The deviations are exact differences of decimal text wherever the values were read from a file, so that a large
 * constant under the data costs no digits (NIST StRD, SmLs07 to SmLs09). Differences, sums of squares and
 * F are computed on deviations; the origin enters only where a level is shown (means, CV).
 */
export interface Response {
  readonly origin: number;
  readonly deviations: readonly number[];
}

/** Wraps plain values, such as strip yields that were computed here and never were decimal text. */
export function responseFromValues(values: readonly number[]): Response {
  return { origin: 0, deviations: values };
}
