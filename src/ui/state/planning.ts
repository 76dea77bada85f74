import { effect, signal } from '@preact/signals-core';
import type { Expectations } from '../../pipeline/replicate-plan.ts';
import type { EnoughReplicates } from '../../planning/enough-replicates.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { trial } from './session.ts';

/**
 * The question whether there are enough replicates, and its answer. What is expected lives with the page and not in
 * the trial: it shapes no figure of the report. Starting values: CV 5-10 % is usual on strips, four blocks are the
 * usual advice (common practice).
 */
export type PlanningQuestion = Omit<Expectations, 'blocks'> & {
  /** null: as many as the trial has, or four. */
  readonly blocks: number | null;
};

export type PlanningAnswer = EnoughReplicates | 'cannotBeAsked' | 'failed' | null;

const USUAL_BLOCKS = 4;

export const planningQuestion = signal<PlanningQuestion>({
  blocks: null,
  cvPercent: 6,
  differencePercent: 5,
  power: 0.8,
});
export const planningAnswer = signal<PlanningAnswer>(null);

/** Keeps the answer current while the question is on the page; the result ends that. */
export function keepPlanningCurrent(): () => void {
  const background = new BackgroundAnalysis();
  planningAnswer.value = null;
  const stop = effect(() => {
    const current = trial.value;
    const asked = planningQuestion.value;
    if (current !== null) void answerFor(background, current, asked);
  });
  return () => {
    stop();
    background.close();
  };
}

async function answerFor(
  background: BackgroundAnalysis,
  current: TrialDocument,
  asked: PlanningQuestion,
): Promise<void> {
  try {
    const answer = await background.plan(current, { ...asked, blocks: blocksAsked(asked, current) });
    if (answer !== 'cancelled') planningAnswer.value = answer ?? 'cannotBeAsked';
  } catch {
    planningAnswer.value = 'failed';
  }
}

export function blocksAsked({ blocks }: PlanningQuestion, current: TrialDocument): number {
  return blocks ?? (blocksLaidOut(current) || USUAL_BLOCKS);
}

/** Without blocks: strips of the treatment that has fewest. */
function blocksLaidOut({ design, blocks, treatments, strips }: TrialDocument): number {
  if (design === 'randomizedCompleteBlocks' || strips.length === 0) return blocks.length;
  const counts = treatments.map(({ id }) => strips.filter(({ treatment }) => treatment === id).length);
  return Math.min(...counts);
}
