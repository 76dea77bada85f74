import { effect, signal } from '@preact/signals-core';
import type { Expectations } from '../../pipeline/replicate-plan.ts';
import type { EnoughReplicates } from '../../planning/enough-replicates.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { analysis } from './analysis.ts';
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

/** Keeps the answer current while the question is on the page; the result ends that. */
export function keepPlanningCurrent(): () => void {
  const background = new BackgroundAnalysis();
  planningAnswer.value = null;
  const stop = effect(() => {
    const current = trial.value;
    const asked = planningQuestion.value;
    const expected = { blocks: blocksAsked(asked, current), cvPercent: cvAsked(asked) };
    if (current !== null) void answerFor(background, current, { ...asked, ...expected });
  });
  return () => {
    stop();
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
  const own = analysis.value.last?.report.responses[0]?.cvPercent ?? null;
  return own === null || own === 0 ? null : Number(own.toPrecision(2));
}

/** Without blocks: strips of the treatment that has fewest. */
function blocksLaidOut({ design, blocks, treatments, strips }: TrialDocument): number {
  if (design === 'randomizedCompleteBlocks' || strips.length === 0) return blocks.length;
  const counts = treatments.map(({ id }) => strips.filter(({ treatment }) => treatment === id).length);
  return Math.min(...counts);
}
