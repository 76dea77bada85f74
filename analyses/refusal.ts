/**
 * Why a method cannot be carried by these data. A refusal is a result: a screen can show it. A programmer's
 * mistake (lengths that differ, a level outside its count) throws instead.
 */
export type RefusalCode =
  | 'tooFewTreatments'
  | 'tooFewPlots'
  | 'noErrorDf'
  | 'constantResponse'
  | 'nonFiniteValue'
  | 'confoundedTerms'
  | 'emptyCell'
  | 'noCompletePair'
  /** The model fits without remainder: an error of zero judges nothing. */
  | 'noErrorVariation'
  | 'alphaOutOfRange'
  /** A value that the transformation does not take: log of zero, a percentage above 100. */
  | 'outsideTransformation'
  | 'tooFewRates'
  /** A curve with lack of fit tells no best rate. */
  | 'quadraticDoesNotFit'
  /** The response bends upwards: the curve has a lowest point, not a best one. */
  | 'bendsUpwards'
  /** The bend could be chance: a best rate could lie anywhere. */
  | 'bendNotDistinguishable'
  | 'bestRateOutsideData';

export interface Refusal {
  readonly refused: true;
  readonly code: RefusalCode;
  /** Figures and ids that a sentence about the refusal needs; words are made elsewhere. */
  readonly details: Readonly<Record<string, string | number>>;
}

export function refuse(code: RefusalCode, details: Refusal['details'] = {}): Refusal {
  return { refused: true, code, details };
}

export function isRefusal(result: object): result is Refusal {
  return 'refused' in result && result.refused === true;
}
