import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { SetAsideReason, StripValue } from './strip-values.ts';

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
export interface SetAsideBalance {
  /** One a strip of the trial: points that screens took over those that they judged; null without points. */
  readonly shareOfStrip: readonly (number | null)[];
  /** One a treatment of the trial: mean over its strips. */
  readonly shareOfTreatment: readonly (number | null)[];
  /** Between the treatments with the most and the least set aside; null with fewer than two. */
  readonly gap: number | null;
  /** Of the F test of treatments in the trial's own design; null where it cannot be had. */
  readonly f: number | null;
  readonly treatmentDf: number | null;
  readonly errorDf: number | null;
  readonly p: number | null;
}

/**
 * The strips' shares analysed by the trial's own design: treatments, and blocks where it has them. Strips are the
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

/** F test of treatments on one value a strip, blocks taken out where the design has them. */
export function testByDesign(
  trial: TrialDocument,
  values: readonly (number | null)[],
): Pick<SetAsideBalance, 'f' | 'treatmentDf' | 'errorDf' | 'p'> {
  const plots = trial.strips.flatMap((strip, s) => {
    const value = values[s] ?? null;
    return value === null ? [] : [{ value, ...strip }];
  });
  const unknown = { f: null, treatmentDf: null, errorDf: null, p: null };
  const treatment = factor(
    'treatment',
    plots.map((plot) => plot.treatment),
  );
  const isBlocked = trial.design === 'randomizedCompleteBlocks' && plots.every(({ block }) => block !== null);
  const block = factor(
    'block',
    plots.map((plot) => plot.block ?? ''),
  );
  if (treatment.levelCount < 2) return unknown;
  const terms = isBlocked && block.levelCount > 1 ? [block, treatment] : [treatment];
  const fit = fitLinearModel({ origin: 0, deviations: plots.map(({ value }) => value) }, terms);
  if (isRefusal(fit)) return unknown;
  const row = fit.rows.find(({ term }) => term === 'treatment');
  return { f: row?.f ?? null, treatmentDf: row?.df ?? null, errorDf: fit.error.df, p: row?.p ?? null };
}

function factor(id: string, levels: readonly string[]): FactorTerm {
  const names = [...new Set(levels)];
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((level) => names.indexOf(level)),
    levelCount: names.length,
  };
}
