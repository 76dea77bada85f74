import type { MachineOfStrip } from '../findings/machine-term.ts';
import { harvestPoints } from '../harvest/harvest-points.ts';
import { trialAsItLies } from '../trial/layout-as-it-lies.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { appliedOfTrial, offPlanOf } from './applied-of-trial.ts';
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
  if (cleaned.value === null) return success(null);
  return success(judgedCleanings(trial, cleaned.value, await machinesOf(trial, files, control)));
}

/** Asked only where the machine is a term of the model. */
async function machinesOf(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<MachineOfStrip | null> {
  if (!trial.inference.machineTerm) return null;
  const grown = harvestedPart(trial);
  return reuse(control, 'machines of strips', JSON.stringify(grown), async () => {
    const points = await pointsOfTrial(grown, files, control);
    const harvest = points.ok ? harvestPoints(grown, points.value) : points;
    return harvest.ok ? harvest.value.conditions.onlyMachine : null;
  });
}

async function cleanedStrips(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<readonly CleanedStrips[] | null>> {
  const points = await pointsOfTrial(trial, files, control);
  if (!points.ok) return points;
  const { isCancelled } = control;
  const { found } = await appliedOfTrial(trial, files, control);
  return success(
    stripsUnderCleanings(trial, points.value, {
      offPlan: found === null ? null : offPlanOf(found),
      onProgress: (share) => control.onProgress?.({ stage: 'analysing', share }),
      ...(isCancelled === undefined ? {} : { isCancelled }),
    }),
  );
}
