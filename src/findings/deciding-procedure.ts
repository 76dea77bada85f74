import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { bonferroni } from '../../analyses/bonferroni.ts';
import { dunnett } from '../../analyses/dunnett.ts';
import { falseRealChance } from '../../analyses/false-real-chance.ts';
import { commonStandardError, fisherLsd } from '../../analyses/fisher-lsd.ts';
import { holm } from '../../analyses/holm.ts';
import type { JudgedDifference, PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';
import { tukey } from '../../analyses/tukey.ts';
import type { DecidingProcedure } from '../trial/trial-document.ts';
import type { PairsThatMatter } from './pairs-that-matter.ts';
import { fromRefusal, type ReportRefusal, reportRefusal } from './report-refusal.ts';

export type Decider = Exclude<DecidingProcedure, 'auto'>;

/** What the deciding procedure works on: the comparisons that matter, on one error. */
export interface DecidingInput {
  readonly differences: readonly PairwiseDifference[];
  readonly kind: PairsThatMatter['kind'];
  /** Of all treatments. */
  readonly means: AdjustedMeans;
  readonly alpha: number;
  /** Of the F test of treatments; null where there is none. */
  readonly treatmentP: number | null;
}

export interface Decided {
  readonly procedure: Decider;
  /** One a comparison, in order: is the difference called real? */
  readonly real: readonly boolean[];
  /** One a comparison: adjusted by the procedure. */
  readonly p: readonly number[];
  /** One a comparison: the interval that answers and money rest on. */
  readonly intervals: readonly JudgedDifference[];
  readonly intervalProcedure: string;
  /** null where it cannot be computed. */
  readonly chanceOfOneFalseReal: number | null;
  readonly significantF: boolean | null;
}

type Procedure = (input: DecidingInput) => Decided | Refusal;

/** What decides when the trial leaves the choice to us and more than one comparison matters. */
const AUTO_BY_KIND: Readonly<Record<PairsThatMatter['kind'], Decider>> = {
  againstCheck: 'dunnett',
  allPairs: 'tukey',
  named: 'bonferroni',
};

const PROCEDURES: Readonly<Record<Decider, Procedure>> = {
  t: (input) => byLsd('t', input),
  lsd: (input) => byLsd('lsd', input),
  protectedLsd: (input) => byLsd('protectedLsd', input),
  bonferroni: byBonferroni,
  holm: byHolm,
  tukey: byTukey,
  dunnett: byDunnett,
};

/** `auto` is settled by the number of comparisons and their kind; anything else stands as chosen. */
export function chooseProcedure(
  chosen: DecidingProcedure,
  kind: PairsThatMatter['kind'],
  comparisons: number,
): Decider {
  if (chosen !== 'auto') return chosen;
  return comparisons === 1 ? 't' : AUTO_BY_KIND[kind];
}

export function decide(procedure: Decider, input: DecidingInput): Decided | ReportRefusal {
  if (procedure === 'dunnett' && input.kind !== 'againstCheck')
    return reportRefusal('procedureNeedsCheck', { procedure });
  const decided = PROCEDURES[procedure](input);
  return isRefusal(decided) ? fromRefusal(decided) : decided;
}

/** Each pair by its own t. The protected form calls nothing real unless the F test of treatments is significant. */
function byLsd(procedure: 't' | 'lsd' | 'protectedLsd', input: DecidingInput): Decided | Refusal {
  const judged = fisherLsd(input.differences, input.alpha);
  if (isRefusal(judged)) return judged;
  const significantF =
    procedure === 'protectedLsd' ? input.treatmentP !== null && input.treatmentP < input.alpha : null;
  return {
    procedure,
    p: judged.comparisons.map((row) => row.p),
    real: judged.comparisons.map((row) => significantF !== false && leavesZeroOut(row)),
    intervals: judged.comparisons,
    intervalProcedure: procedure,
    chanceOfOneFalseReal: chanceByLsd(procedure, input),
    significantF,
  };
}

/**
 * Unguarded comparisons: the exact chance for equal replication; null elsewhere. The protected form is told at its
 * worst known case, one treatment that truly differs, where F guards nothing among the others.
 */
function chanceByLsd(procedure: Decider, input: DecidingInput): number | null {
  if (input.differences.length === 1) return input.alpha;
  const df = input.differences[0]?.df;
  if (df === undefined || input.kind === 'named' || commonStandardError(input.differences) === null)
    return null;
  const chance = falseRealChance(input.means.means.length, df, input.alpha);
  if (isRefusal(chance)) return null;
  if (procedure === 'protectedLsd') return Math.max(input.alpha, chance.protectedOneDiffers ?? 0);
  return input.kind === 'againstCheck' ? chance.againstCheck : chance.unprotected;
}

function byBonferroni(input: DecidingInput): Decided | Refusal {
  const judged = bonferroni(input.differences, input.alpha);
  return isRefusal(judged) ? judged : byIntervals('bonferroni', judged.comparisons, input.alpha);
}

function byTukey(input: DecidingInput): Decided | Refusal {
  const judged = tukey(input.differences, input.means.means.length, input.alpha);
  return isRefusal(judged) ? judged : byIntervals('tukey', judged.comparisons, input.alpha);
}

/** The comparisons come in the order of the treatments, as those against the check do. */
function byDunnett(input: DecidingInput): Decided | Refusal {
  const check = input.differences[0]?.b;
  if (check === undefined) throw new RangeError('dunnett: expected at least one comparison, got none');
  const judged = dunnett(input.means, check, input.alpha);
  return isRefusal(judged) ? judged : byIntervals('dunnett', judged.comparisons, input.alpha);
}

/** Holm decides by its adjusted p; it has no intervals, so Bonferroni's, which hold together, serve for those. */
function byHolm(input: DecidingInput): Decided | Refusal {
  const judged = holm(input.differences, input.alpha);
  const intervals = bonferroni(input.differences, input.alpha);
  if (isRefusal(judged)) return judged;
  if (isRefusal(intervals)) return intervals;
  return {
    procedure: 'holm',
    p: judged.comparisons.map((row) => row.p),
    real: judged.comparisons.map((row) => row.p < input.alpha),
    intervals: intervals.comparisons,
    intervalProcedure: 'bonferroni',
    chanceOfOneFalseReal: input.alpha,
    significantF: null,
  };
}

function byIntervals(
  procedure: 'bonferroni' | 'tukey' | 'dunnett',
  comparisons: readonly JudgedDifference[],
  alpha: number,
): Decided {
  return {
    procedure,
    p: comparisons.map((row) => row.p),
    real: comparisons.map(leavesZeroOut),
    intervals: comparisons,
    intervalProcedure: procedure,
    chanceOfOneFalseReal: alpha,
    significantF: null,
  };
}

function leavesZeroOut({ lower, upper }: JudgedDifference): boolean {
  return lower !== null && upper !== null && (lower > 0 || upper < 0);
}
