import { effect, signal } from '@preact/signals-core';
import type { LagEstimate } from '../../harvest/estimate-lag.ts';
import type { Progress } from '../../pipeline/input-file.ts';
import type { Problem } from '../../trial/problem.ts';
import { analysisBench, filesInOrder } from './analysis.ts';
import { announcement, files, trial } from './session.ts';

/** The estimate of the lag, made when it is asked for, on the worker that holds the points already. */
export type LagState =
  | { readonly stage: 'nothing' }
  | { readonly stage: 'running'; readonly progress: Progress | null }
  | { readonly stage: 'done'; readonly estimates: readonly LagEstimate[] }
  | { readonly stage: 'refused'; readonly problems: readonly Problem[] }
  | { readonly stage: 'failed' };

const NOTHING: LagState = { stage: 'nothing' };

export const lag = signal<LagState>(NOTHING);

/** An estimate is about the files and how they are read; when these change it is gone. */
export function forgetLagWithFiles(): () => void {
  let about = '';
  return effect(() => {
    const read = JSON.stringify([trial.value?.harvestFiles, files.value.map(({ name }) => name)]);
    if (read !== about) lag.value = NOTHING;
    about = read;
  });
}

export async function estimateLagNow(): Promise<void> {
  const current = trial.peek();
  if (current === null) return;
  lag.value = { stage: 'running', progress: null };
  try {
    const outcome = await analysisBench.estimateLag(
      current,
      filesInOrder(current, files.peek()),
      (progress) => {
        lag.value = { stage: 'running', progress };
      },
    );
    if (outcome === 'cancelled') {
      lag.value = NOTHING;
      return;
    }
    lag.value = outcome.ok
      ? { stage: 'done', estimates: outcome.value }
      : { stage: 'refused', problems: outcome.problems };
    announcement.value = outcome.ok ? 'The lag was estimated.' : 'The lag could not be estimated.';
  } catch {
    lag.value = { stage: 'failed' };
  }
}

export function stopLag(): void {
  analysisBench.cancel();
  lag.value = NOTHING;
  announcement.value = 'The estimate was stopped.';
}
