import { estimateLag, type LagEstimate } from '../harvest/estimate-lag.ts';
import { trialAsItLies } from '../trial/layout-as-it-lies.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/** By how many seconds flow and moisture of each file are still late; nothing is applied. */
export async function lagOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<readonly LagEstimate[]>> {
  const points = await pointsOfTrial(trial, files, control);
  return points.ok ? estimateLag(trialAsItLies(trial), points.value) : points;
}
