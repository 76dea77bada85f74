import { effect, type Signal, signal } from '@preact/signals-core';
import type { Progress } from '../../pipeline/input-file.ts';
import type { Outcome, Problem } from '../../trial/problem.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { analysisBench, filesInOrder } from './analysis.ts';
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
  const forget = () => {
    state.value = { stage: 'nothing' };
  };
  const ask = async () => {
    const current = trial.peek();
    if (current === null) return;
    state.value = { stage: 'running', progress: null };
    try {
      const outcome = await work(current, filesInOrder(current, files.peek()), (progress) => {
        state.value = { stage: 'running', progress };
      });
      if (outcome === 'cancelled') {
        forget();
        return;
      }
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
