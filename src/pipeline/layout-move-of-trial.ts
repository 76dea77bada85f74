import { type LayoutMoveAnswer, proposeLayoutMove } from '../harvest/propose-layout-move.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/** By how much the layout should be moved to lie under the passes; nothing is applied. */
export async function layoutMoveOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<LayoutMoveAnswer>> {
  const points = await pointsOfTrial(trial, files, control);
  return points.ok ? proposeLayoutMove(trial, points.value) : points;
}
