import { effect } from '@preact/signals-core';
import { analysisBench } from './analysis.ts';
import { askedJob } from './asked-job.ts';
import { files, trial } from './session.ts';

/** The points without strips, to draw over. */
export const bareField = askedJob((...asked) => analysisBench.bareField(...asked), {
  done: 'The points are shown.',
  refused: 'The points could not be read.',
  stopped: 'Reading the points was stopped.',
});

/** It is about the files and how they are read; when these change it is gone. */
export function forgetBareFieldWithFiles(): () => void {
  let about = '';
  return effect(() => {
    const now = JSON.stringify([trial.value?.harvestFiles, files.value.map(({ name }) => name)]);
    if (now !== about) bareField.forget();
    about = now;
  });
}
