import { computed, effect, signal } from '@preact/signals-core';
import type { Expectations } from '../../pipeline/replicate-plan.ts';
import type { EnoughReplicates } from '../../planning/enough-replicates.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { isAnswerDue, lastRun } from './analysis.ts';
import { trial } from './session.ts';

/**
 * The question whether there are enough replicates, and its answer. What is expected lives with the page and not in
 * the trial: it shapes no figure of the report. Starting values are common practice: a CV of 5-10 % is usual for
 * strips, four blocks are the usual advice.
 */
export type PlanningQuestion = Omit<Expectations, 'blocks' | 'cvPercent'> & {
  /** null: as many as the trial has, or four. */
  readonly blocks: number | null;
  /** null: what the trial's own strips came to, or the usual one. */
  readonly cvPercent: number | null;
};

export type PlanningAnswer = EnoughReplicates | 'cannotBeAsked' | 'failed' | null;

const USUAL_BLOCKS = 4;
const USUAL_CV_PERCENT = 6;

export const planningQuestion = signal<PlanningQuestion>({
  blocks: null,
  cvPercent: null,
  differencePercent: 5,
  power: 0.8,
});
export const planningAnswer = signal<PlanningAnswer>(null);

/** Waits for a pause between edits. */
const PAUSE_MS = 120;

/** The first analysis says which CV the strips have; until then a plan would only take its time. */
const isAwaitingFirst = computed(() => isAnswerDue() && lastRun.value === null);

/** Keeps the answer current while the question is on the page; the result ends that. */
export function keepPlanningCurrent(): () => void {
  const background = new BackgroundAnalysis();
  planningAnswer.value = null;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  const stop = effect(() => {
    const current = trial.value;
    const asked = planningQuestion.value;
    const expected = { ...asked, blocks: blocksAsked(asked, current), cvPercent: cvAsked(asked) };
    const isAwaited = isAwaitingFirst.value;
    clearTimeout(waiting);
    if (current === null || isAwaited) return;
    waiting = setTimeout(() => void answerFor(background, current, expected), PAUSE_MS);
  });
  return () => {
    stop();
    clearTimeout(waiting);
    background.close();
  };
}

async function answerFor(
  background: BackgroundAnalysis,
  current: TrialDocument,
  expected: Expectations,
): Promise<void> {
  try {
    const answer = await background.plan(current, expected);
    if (answer !== 'cancelled') planningAnswer.value = answer ?? 'cannotBeAsked';
  } catch {
    planningAnswer.value = 'failed';
  }
}

export function blocksAsked({ blocks }: PlanningQuestion, current: TrialDocument | null): number {
  return blocks ?? ((current === null ? 0 : blocksLaidOut(current)) || USUAL_BLOCKS);
}

export function cvAsked({ cvPercent }: PlanningQuestion): number {
  return cvPercent ?? ownCvPercent() ?? USUAL_CV_PERCENT;
}

/** Of the trial's own strips, once they are harvested. */
export function ownCvPercent(): number | null {
  return ownCv.value;
}

const ownCv = computed(() => {
  const own = lastRun.value?.report.responses[0]?.cvPercent ?? null;
  return own === null || own === 0 ? null : Number(own.toPrecision(2));
});

/** Without blocks: strips of the treatment that has fewest. */
function blocksLaidOut({ design, blocks, treatments, strips }: TrialDocument): number {
  if (design === 'randomizedCompleteBlocks' || strips.length === 0) return blocks.length;
  const counts = treatments.map(({ id }) => strips.filter(({ treatment }) => treatment === id).length);
  return Math.min(...counts);
}
