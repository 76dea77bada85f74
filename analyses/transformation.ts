import { type Refusal, refuse } from './refusal.ts';
import { type Response, responseFromValues } from './response.ts';

/**
 * A change of scale before the analysis. Square root: sqrt(value + offset), for counts. Log: natural logarithm, for what
 * grows by factors. Angular: arc sine of sqrt(value / 100) in degrees, for percentages of a whole.
 */
export type Transformation =
  | { readonly kind: 'squareRoot'; readonly offset: number }
  | { readonly kind: 'log' }
  | { readonly kind: 'angular' };

/** Counts below this, or zeros, want the offset. */
const SMALL_COUNT = 10;
const DEGREES = 180 / Math.PI;

/**
 * The offset that field books give for the square root of counts: 1/2 where any is below 10, else 0.
 *
 * Source: M. S. Bartlett (1936) Suppl. J. R. Stat. Soc. 3:68-78.
 */
export function usualOffset(counts: readonly number[]): number {
  return counts.some((count) => count < SMALL_COUNT) ? 0.5 : 0;
}

/**
 * The response on the transformed scale. Percentages of 0 and 100 are taken as they are: nothing is put in their place.
 *
 * @param response - percentages for the angular transformation, not shares
 * @returns the transformed response, or the refusals `nonFiniteValue` {plot} and `outsideTransformation` {plot, value, kind}:
 * log of a value not positive, a percentage outside 0 to 100, the square root of a negative number
 * @throws RangeError for an offset that is negative or not finite
 * Sources: M. S. Bartlett (1947) Biometrics 3:39-52; K. A. Gomez & A. A. Gomez (1984) Statistical Procedures for Agricultural
 * Research, 2nd ed., section 7.2.2.
 */
export function transformed(response: Response, transformation: Transformation): Response | Refusal {
  requireOffset(transformation);
  const values = response.deviations.map((deviation) => response.origin + deviation);
  const unknown = values.findIndex((value) => !Number.isFinite(value));
  if (unknown >= 0) return refuse('nonFiniteValue', { plot: unknown });
  const outside = values.findIndex((value) => !takes(transformation, value));
  if (outside >= 0)
    return refuse('outsideTransformation', {
      plot: outside,
      value: values[outside]!,
      kind: transformation.kind,
    });
  return responseFromValues(values.map((value) => onScale(transformation, value)));
}

/**
 * From the transformed scale to the one people read. Beyond the ends of the transformed scale (below the root of nothing,
 * below 0 or above 90 degrees) the nearest end is meant: 0, or 0 and 100 %.
 */
export function backTransformed(transformation: Transformation, value: number): number {
  if (transformation.kind === 'log') return Math.exp(value);
  if (transformation.kind === 'squareRoot')
    return Math.max(0, Math.max(0, value) ** 2 - transformation.offset);
  return 100 * Math.sin(Math.min(90, Math.max(0, value)) / DEGREES) ** 2;
}

function takes({ kind }: Transformation, value: number): boolean {
  if (kind === 'log') return value > 0;
  return value >= 0 && (kind === 'squareRoot' || value <= 100);
}

function onScale(transformation: Transformation, value: number): number {
  if (transformation.kind === 'log') return Math.log(value);
  if (transformation.kind === 'squareRoot') return Math.sqrt(value + transformation.offset);
  // Near 100 % the arc tangent of the two shares keeps the digits that an arc sine near 1 loses.
  return DEGREES * Math.atan2(Math.sqrt(value), Math.sqrt(100 - value));
}

function requireOffset(transformation: Transformation): void {
  if (transformation.kind !== 'squareRoot') return;
  const { offset } = transformation;
  if (!(offset >= 0 && offset < Infinity))
    throw new RangeError(`square root: expected an offset of at least 0, got ${offset}`);
}
