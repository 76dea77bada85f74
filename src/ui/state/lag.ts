import { analysisBench } from './analysis.ts';
import { askedJob, forgetWhenChanged } from './asked-job.ts';
import { files, trial } from './session.ts';

/** The estimate of the lag. */
export const lag = askedJob((...asked) => analysisBench.estimateLag(...asked), {
  done: 'The lag was estimated.',
  refused: 'The lag could not be estimated.',
  stopped: 'The estimate was stopped.',
});

/** An estimate is about the files and how they are read; when these change it is gone. */
export function forgetLagWithFiles(): () => void {
  return forgetWhenChanged(lag, () => [
    trial.value?.harvestFiles.map(({ path, kind, columns }) => ({ path, kind, columns })),
    files.value.map(({ name }) => name),
  ]);
}
