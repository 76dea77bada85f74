import { localProjection } from '../geometry/local-projection.ts';
import { frameOfPoints } from '../harvest/numbered-field.ts';
import type { PointFacts } from '../harvest/point-facts.ts';
import { recordedFacts } from '../harvest/recorded-facts.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { FieldDrawing } from './analyse-trial.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { pointsOfTrial } from './points-of-trial.ts';

export interface BareField {
  readonly field: FieldDrawing;
  /** What the file says of a point, since nothing was worked out of it yet. */
  readonly factsOfPoint: (point: number) => PointFacts | null;
}

/** The points of the harvest where there are no strips yet, to draw a layout over; null where no file has any. */
export async function bareField(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<BareField | null>> {
  const read = await pointsOfTrial(trial, files, control);
  if (!read.ok) return read;
  const frame = frameOfPoints(read.value);
  if (frame === null) return success(null);
  const projection = localProjection(frame);
  const count = read.value.reduce((sum, file) => sum + file.count, 0);
  const points = {
    eastM: new Float64Array(count),
    northM: new Float64Array(count),
    yieldKgPerHa: new Float64Array(count).fill(Number.NaN),
    strip: new Int32Array(count).fill(-1),
    reason: new Uint8Array(count),
  };
  let first = 0;
  for (const file of read.value) {
    const [eastM, northM] = [points.eastM, points.northM].map((all) =>
      all.subarray(first, first + file.count),
    );
    projection.placeAll(file, { eastM: eastM!, northM: northM! });
    if (file.yieldKgPerHa !== null) points.yieldKgPerHa.set(file.yieldKgPerHa, first);
    first += file.count;
  }
  return success({
    field: { frame, strips: [], planned: [], points, arePointsJudged: false, passes: null },
    factsOfPoint: (point) => recordedFacts(read.value, point),
  });
}
