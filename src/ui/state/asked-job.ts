import { effect, type Signal, signal } from '@preact/signals-core';
import type { Progress } from '../../pipeline/input-file.ts';
import type { Outcome, Problem } from '../../trial/problem.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { analysisBench, answerAtRest, filesInOrder, isAnswerDue } from './analysis.ts';
import { announcement, files, type OpenedFile, trial } from './session.ts';

/** How a piece of work is getting on that is done only when somebody asks for it. */
export type AskedJobState<T> =
  | { readonly stage: 'nothing' }
  | { readonly stage: 'running'; readonly progress: Progress | null }
  | { readonly stage: 'done'; readonly found: T }
  | { readonly stage: 'refused'; readonly problems: readonly Problem[] }
  | { readonly stage: 'failed' };

export interface AskedJob<T> {
  readonly state: Signal<AskedJobState<T>>;
  readonly ask: () => Promise<void>;
  readonly stop: () => void;
  /** What was found is no longer about what is there. */
  readonly forget: () => void;
}

type Work<T> = (
  trial: TrialDocument,
  files: readonly OpenedFile[],
  onProgress: (progress: Progress) => void,
) => Promise<Outcome<T> | 'cancelled'>;

/** Work on the trial and its files, on the worker that holds them already; `said` is read out when it ends. */
export function askedJob<T>(
  work: Work<T>,
  said: { readonly done: string; readonly refused: string; readonly stopped: string },
): AskedJob<T> {
  const state = signal<AskedJobState<T>>({ stage: 'nothing' });
  let asked = 0;
  const forget = () => {
    asked += 1;
    state.value = { stage: 'nothing' };
  };
  const onProgress = (progress: Progress) => {
    state.value = { stage: 'running', progress };
  };
  /** Waits for the answer to an edit, and begins anew where one ended the work; null: no longer wanted. */
  const outcomeOf = async (mine: number): Promise<Outcome<T> | null> => {
    for (;;) {
      await answerAtRest();
      const current = trial.peek();
      if (mine !== asked || current === null) return null;
      const outcome = await work(current, filesInOrder(current, files.peek()), onProgress);
      if (mine !== asked) return null;
      if (outcome !== 'cancelled') return outcome;
      if (!isAnswerDue()) {
        forget();
        return null;
      }
    }
  };
  const ask = async () => {
    asked += 1;
    state.value = { stage: 'running', progress: null };
    try {
      const outcome = await outcomeOf(asked);
      if (outcome === null) return;
      state.value = outcome.ok
        ? { stage: 'done', found: outcome.value }
        : { stage: 'refused', problems: outcome.problems };
      announcement.value = outcome.ok ? said.done : said.refused;
    } catch {
      state.value = { stage: 'failed' };
    }
  };
  const stop = () => {
    analysisBench.cancel();
    forget();
    announcement.value = said.stopped;
  };
  return { state, ask, stop, forget };
}

/** Forgets what was found as soon as that changes which it is about, as far as it can be written as JSON. */
export function forgetWhenChanged<T>({ forget }: AskedJob<T>, about: () => unknown): () => void {
  let before = '';
  return effect(() => {
    const now = JSON.stringify(about());
    if (now !== before) forget();
    before = now;
  });
}
