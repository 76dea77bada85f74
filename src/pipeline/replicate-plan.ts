import { chooseProcedure, type Decider } from '../findings/deciding-procedure.ts';
import {
  type EnoughReplicates,
  enoughReplicates,
  type ReplicatePlan,
} from '../planning/enough-replicates.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What nobody can know of a trial before its season, and what it should find. */
export type Expectations = Pick<ReplicatePlan, 'blocks' | 'cvPercent' | 'differencePercent' | 'power'>;

/**
 * Are there enough replicates in this trial? Judged by the procedure that will decide it. null with fewer than two
 * treatments, where named pairs shall matter and none is named, or where the chance asked for lies not above the level.
 */
export function planOfTrial(trial: TrialDocument, expected: Expectations): EnoughReplicates | null {
  const treatments = trial.treatments.length;
  if (treatments < 2) return null;
  const kind = comparisonKind(trial);
  const comparisons = comparisonsOf(kind, trial);
  const { alpha } = trial.inference;
  if (comparisons === 0 || !(expected.power > alpha)) return null;
  const decider = chooseProcedure(trial.inference.decidedBy, kind, comparisons);
  return enoughReplicates({
    ...expected,
    treatments,
    design: trial.design,
    alpha,
    procedure: PLANNED_AS[decider],
    comparisons,
  });
}

/** LSD and t judge a pair on its own; Holm is planned as Bonferroni, which it is never worse than. */
const PLANNED_AS: Readonly<Record<Decider, ReplicatePlan['procedure']>> = {
  t: 't',
  lsd: 't',
  protectedLsd: 't',
  bonferroni: 'bonferroni',
  holm: 'bonferroni',
  tukey: 'tukey',
  dunnett: 'dunnett',
};

type ComparisonKind = 'againstCheck' | 'allPairs' | 'named';

function comparisonKind({ inference, treatments }: TrialDocument): ComparisonKind {
  if (inference.comparisons !== 'auto') return inference.comparisons;
  return treatments.some(({ isCheck }) => isCheck) ? 'againstCheck' : 'allPairs';
}

function comparisonsOf(kind: ComparisonKind, { inference, treatments }: TrialDocument): number {
  if (kind === 'named') return inference.namedPairs.length;
  return kind === 'againstCheck' ? treatments.length - 1 : (treatments.length * (treatments.length - 1)) / 2;
}
