import { effect } from '@preact/signals-core';
import { analysisBench } from './analysis.ts';
import { askedJob } from './asked-job.ts';
import { files, trial } from './session.ts';

/** The move of the layout that the passes propose. */
export const layoutProposal = askedJob((...asked) => analysisBench.layoutMove(...asked), {
  done: 'The passes were looked at.',
  refused: 'The passes could not be looked at.',
  stopped: 'Looking at the passes was stopped.',
});

/** A proposal is about files, header, strips and the move that stands; when these change it is gone. */
export function forgetProposalWithLayout(): () => void {
  let about = '';
  return effect(() => {
    const current = trial.value;
    const now = JSON.stringify([
      current?.harvestFiles,
      current?.harvest.headerWidthM,
      current?.strips.map(({ polygon }) => polygon),
      current?.layoutMove,
      files.value.map(({ name }) => name),
    ]);
    if (now !== about) layoutProposal.forget();
    about = now;
  });
}
