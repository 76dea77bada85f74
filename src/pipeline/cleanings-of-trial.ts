import { trialAsItLies } from '../trial/layout-as-it-lies.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import {
  type CleanedStrips,
  type CleaningGrid,
  judgedCleanings,
  stripsUnderCleanings,
} from './cleaning-grid.ts';
import { harvestedPart } from './harvested-part.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { reuse } from './kept-work.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/**
 * Does the cleaning decide? null where there is no verdict that cleaning could move. Strip values under each cleaning
 * are kept, so that an edit of prices or of the level judges them anew but cleans nothing.
 */
export async function cleaningsOfTrial(
  asked: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<CleaningGrid | null>> {
  const trial = trialAsItLies(asked);
  const clean = () => cleanedStrips(trial, files, control);
  // What a cancel cut short must not be kept.
  const cleaned =
    control.isCancelled === undefined
      ? await reuse(control, 'strips under cleanings', JSON.stringify(harvestedPart(trial)), clean)
      : await clean();
  if (!cleaned.ok) return cleaned;
  return success(cleaned.value === null ? null : judgedCleanings(trial, cleaned.value));
}

async function cleanedStrips(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<readonly CleanedStrips[] | null>> {
  const points = await pointsOfTrial(trial, files, control);
  if (!points.ok) return points;
  const { isCancelled } = control;
  return success(
    stripsUnderCleanings(trial, points.value, {
      onProgress: (share) => control.onProgress?.({ stage: 'analysing', share }),
      ...(isCancelled === undefined ? {} : { isCancelled }),
    }),
  );
}
