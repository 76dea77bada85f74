import type { HarvestPoints } from '../intake/harvest-data.ts';
import { readPointsSource } from '../intake/read-source.ts';
import { type SourceFile, sourceNamed } from '../intake/source-file.ts';
import { type Crop, cropWithBushel, findCrop } from '../trial/crops.ts';
import { failure, type Outcome, problem, success } from '../trial/problem.ts';
import type { HarvestFile, TrialDocument } from '../trial/trial-document.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { reuse } from './kept-work.ts';

/** The points of every point file that the trial names, in its order; the first that does not read stops. */
export async function pointsOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<readonly HarvestPoints[]>> {
  const crop = findCrop(trial.crop);
  const asked = trial.harvestFiles.filter(({ kind }) => kind === 'points');
  const points: HarvestPoints[] = [];
  for (const [index, one] of asked.entries()) {
    control.onProgress?.({ stage: 'reading', share: index / asked.length });
    const file = sourceNamed(one.path, files);
    if (file === null)
      return failure(problem('error', 'fileMissing', { file: one.path }, { path: one.path }));
    const read = await readPointsOnce(file, one, crop, control);
    if (!read.ok) return read;
    points.push(read.value);
  }
  control.onProgress?.({ stage: 'placing', share: 0 });
  return success(points);
}

/** Reads a point file, or takes over what was kept of it: what harvest alone makes of the file reads nothing anew. */
export function readPointsOnce(
  file: SourceFile,
  asked: HarvestFile,
  crop: Crop | null,
  control: PipelineControl,
): Promise<Outcome<HarvestPoints>> {
  const { path, kind, columns, yieldColumns, kgPerBushel } = asked;
  const key = JSON.stringify([path, kind, columns, yieldColumns, kgPerBushel, crop]);
  return reuse(control, `points of ${file.name}`, key, () =>
    readPointsSource(file, asked, cropWithBushel(crop, kgPerBushel)),
  );
}
