import { analysisBench } from './analysis.ts';
import { askedJob, forgetWhenChanged } from './asked-job.ts';
import { files, trial } from './session.ts';

/** The points without strips, to draw over. */
export const bareField = askedJob((...asked) => analysisBench.bareField(...asked), {
  done: 'The points are shown.',
  refused: 'The points could not be read.',
  stopped: 'Reading the points was stopped.',
});

/** It is about the files and how they are read; when these change it is gone. */
export function forgetBareFieldWithFiles(): () => void {
  return forgetWhenChanged(bareField, () => [trial.value?.harvestFiles, files.value.map(({ name }) => name)]);
}
