import { analysisBench } from './analysis.ts';
import { askedJob, forgetWhenChanged } from './asked-job.ts';
import { files, trial } from './session.ts';

/** The move of the layout that the passes propose. */
export const layoutProposal = askedJob((...asked) => analysisBench.layoutMove(...asked), {
  done: 'The passes were looked at.',
  refused: 'The passes could not be looked at.',
  stopped: 'Looking at the passes was stopped.',
});

/** A proposal is about files, header, strips and the move that stands; when these change it is gone. */
export function forgetProposalWithLayout(): () => void {
  return forgetWhenChanged(layoutProposal, () => [
    trial.value?.harvestFiles,
    trial.value?.harvest.headerWidthM,
    trial.value?.strips.map(({ polygon }) => polygon),
    trial.value?.layoutMove,
    files.value.map(({ name }) => name),
  ]);
}
