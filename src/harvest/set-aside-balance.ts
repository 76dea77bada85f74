import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { SetAsideReason, StripValue } from './strip-values.ts';
import { type TestByDesign, testByDesign } from './test-by-design.ts';

/** Points left out for where they lie are left out alike whatever the treatment. */
const BY_PLACE: readonly SetAsideReason[] = [
  'outsideStrips',
  'sideMargin',
  'cutFromBlock',
  'cutFromStrip',
  'appliedOtherwise',
  'endMargin',
];

/** Did the screens take more from one treatment than from another? Shares of 0 to 1. */
export interface SetAsideBalance extends TestByDesign {
  /** One a strip of the trial: points that screens took over those that they judged; null without points. */
  readonly shareOfStrip: readonly (number | null)[];
  /** One a treatment of the trial: mean over its strips. */
  readonly shareOfTreatment: readonly (number | null)[];
  /** Between the treatments with the most and the least set aside; null with fewer than two. */
  readonly gap: number | null;
}

/**
 * The strips' shares analysed by the trial's own design ({@link testByDesign}). Strips are the
 * units, since points of one strip fail together; counting points would call nearly every trial unbalanced.
 */
export function setAsideBalance(trial: TrialDocument, values: readonly StripValue[]): SetAsideBalance {
  return balanceOfShares(trial, values.map(shareOf));
}

/** The same of any share of each strip. */
export function balanceOfShares(
  trial: TrialDocument,
  shareOfStrip: readonly (number | null)[],
): SetAsideBalance {
  const shareOfTreatment = trial.treatments.map(({ id }) =>
    meanOf(shareOfStrip.filter((_, s) => trial.strips[s]?.treatment === id)),
  );
  const known = shareOfTreatment.filter((share) => share !== null);
  const gap = known.length < 2 ? null : Math.max(...known) - Math.min(...known);
  return { shareOfStrip, shareOfTreatment, gap, ...testByDesign(trial, shareOfStrip) };
}

/** Common practice, no source. */
export const WORTH_SAYING_P = 0.1;
/** Between treatments: 5 percentage points (common practice, no source). */
export const WORTH_SAYING_GAP = 0.05;

/** A gap of 5 percentage points stands beside the answer in any case; below that the test speaks. */
export function balanceProblems({ p, gap }: SetAsideBalance): Problem[] {
  if (p === null || gap === null || p >= WORTH_SAYING_P || gap >= WORTH_SAYING_GAP) return [];
  return [problem('warning', 'setAsideByTreatment', {}, { p, gapPercent: 100 * gap })];
}

function shareOf({ pointsKept, pointsSetAside }: StripValue): number | null {
  if (pointsKept === null) return null;
  const taken = Object.entries(pointsSetAside)
    .filter(([reason]) => !BY_PLACE.some((byPlace) => byPlace === reason))
    .reduce((sum, [, points]) => sum + points, 0);
  return pointsKept + taken === 0 ? null : taken / (pointsKept + taken);
}

function meanOf(shares: readonly (number | null)[]): number | null {
  const known = shares.filter((share) => share !== null);
  return known.length === 0 ? null : known.reduce((sum, share) => sum + share, 0) / known.length;
}
