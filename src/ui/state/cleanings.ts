import { effect, signal } from '@preact/signals-core';
import type { CleaningGrid } from '../../pipeline/cleaning-grid.ts';
import type { Progress } from '../../pipeline/input-file.ts';
import type { Problem } from '../../trial/problem.ts';
import { analysisBench, filesInOrder } from './analysis.ts';
import { announcement, files, trial } from './session.ts';

/** Whether the cleaning decides, found out when it is asked for, on the worker that holds the points already. */
export type CleaningsState =
  | { readonly stage: 'nothing' }
  | { readonly stage: 'running'; readonly progress: Progress | null }
  | { readonly stage: 'done'; readonly grid: CleaningGrid | null }
  | { readonly stage: 'refused'; readonly problems: readonly Problem[] }
  | { readonly stage: 'failed' };

const NOTHING: CleaningsState = { stage: 'nothing' };

export const cleanings = signal<CleaningsState>(NOTHING);

/** What was found holds for one trial and its files; any edit makes it old. */
export function forgetOldCleanings(): () => void {
  return effect(() => {
    void trial.value;
    void files.value;
    cleanings.value = NOTHING;
  });
}

export async function tryCleanings(): Promise<void> {
  const current = trial.peek();
  if (current === null) return;
  cleanings.value = { stage: 'running', progress: null };
  try {
    const outcome = await analysisBench.cleanings(
      current,
      filesInOrder(current, files.peek()),
      (progress) => {
        cleanings.value = { stage: 'running', progress };
      },
    );
    if (outcome === 'cancelled') {
      cleanings.value = NOTHING;
      return;
    }
    cleanings.value = outcome.ok
      ? { stage: 'done', grid: outcome.value }
      : { stage: 'refused', problems: outcome.problems };
    announcement.value = outcome.ok ? 'All cleanings were tried.' : 'The cleanings could not be tried.';
  } catch {
    cleanings.value = { stage: 'failed' };
  }
}

export function stopCleanings(): void {
  analysisBench.cancel();
  cleanings.value = NOTHING;
  announcement.value = 'Stopped.';
}
