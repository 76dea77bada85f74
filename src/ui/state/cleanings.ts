import { effect } from '@preact/signals-core';
import { analysisBench } from './analysis.ts';
import { askedJob } from './asked-job.ts';
import { files, trial } from './session.ts';

/** Whether the cleaning decides. */
export const cleanings = askedJob((...asked) => analysisBench.cleanings(...asked), {
  done: 'All cleanings were tried.',
  refused: 'The cleanings could not be tried.',
  stopped: 'Stopped.',
});

/** What was found holds for one trial and its files; any edit makes it old. */
export function forgetOldCleanings(): () => void {
  return effect(() => {
    void trial.value;
    void files.value;
    cleanings.forget();
  });
}
