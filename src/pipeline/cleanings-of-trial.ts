import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { type CleaningGrid, cleaningGrid } from './cleaning-grid.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/** Does the cleaning decide? null where there is no verdict that cleaning could move. */
export async function cleaningsOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<CleaningGrid | null>> {
  const points = await pointsOfTrial(trial, files, control);
  if (!points.ok) return points;
  const { isCancelled } = control;
  return success(
    cleaningGrid(trial, points.value, {
      onProgress: (share) => control.onProgress?.({ stage: 'analysing', share }),
      ...(isCancelled === undefined ? {} : { isCancelled }),
    }),
  );
}
