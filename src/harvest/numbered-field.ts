import { greatCircleKm } from '../geometry/great-circle.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { PassNumbering } from '../trial/trial-document.ts';
import { cuttingIn } from './cutting.ts';
import { type DrivenTrack, type FieldPasses, fieldPasses, numberingOf } from './field-passes.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { medianOf } from './logging-interval.ts';
import { type PlacedFile, placeFile } from './placed-file.ts';

/** A field that is known by its harvest alone: its own plane, the files in it, and its passes in field order. */
export interface NumberedField {
  readonly frame: LocalFrame;
  /** No point is in a strip yet. */
  readonly placed: readonly PlacedFile[];
  readonly field: FieldPasses;
  readonly numbering: PassNumbering;
}

/** One trial lies in one field. */
const ONE_FIELD_KM = 20;

/**
 * The passes of a harvest, numbered in field order. Refuses with `noHarvestFile`, `fileWithoutPositions`,
 * `filesFarApart` and `noHarvestPasses`.
 */
export function numberedField(files: readonly HarvestPointsInput[]): Outcome<NumberedField> {
  if (files.length === 0) return failure(problem('error', 'noHarvestFile'));
  const middles = files.map(middleOf);
  const bare = files.filter((_, k) => middles[k] === null);
  if (bare.length > 0)
    return failure(...bare.map(({ file }) => problem('error', 'fileWithoutPositions', { file })));
  const frame = frameOfPoints(files)!;
  const far = files.flatMap(({ file }, k) => farFrom(frame, file, middles[k]!));
  if (far.length > 0) return failure(...far);
  const projection = localProjection(frame);
  const placed = files.map((file) => placeFile(file, projection, () => -1));
  const tracks = placed.map(trackOf);
  const field = fieldPasses(tracks);
  if (field === null) return failure(problem('error', 'noHarvestPasses'));
  return success({ frame, placed, field, numbering: numberingOf(tracks, field) });
}

function trackOf(file: PlacedFile): DrivenTrack {
  const { input, eastM, northM, interval } = file;
  return { file: input.file, eastM, northM, run: interval.run, cutting: cuttingIn(input) };
}

/** The middle of all points, on whichever side of the 180th meridian they lie; null where none can be read. */
export function frameOfPoints(
  files: readonly Pick<HarvestPointsInput, 'longitude' | 'latitude'>[],
): LocalFrame | null {
  return middleOf({
    longitude: joined(files.map(({ longitude }) => longitude)),
    latitude: joined(files.map(({ latitude }) => latitude)),
  });
}

function joined(parts: readonly Float64Array[]): Float64Array {
  if (parts.length === 1) return parts[0]!;
  const all = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** Medians, which a few wild positions do not move; null where none can be read. */
function middleOf({
  longitude,
  latitude,
}: Pick<HarvestPointsInput, 'longitude' | 'latitude'>): LocalFrame | null {
  const known = Float64Array.from(latitude, (value, i) =>
    Number.isFinite(value + longitude[i]!) ? value : Number.NaN,
  );
  const originLatitude = medianOf(known.filter(Number.isFinite));
  if (originLatitude === null) return null;
  const shifted = Math.abs(medianOf(longitude.filter(Number.isFinite)) ?? 0) > 90;
  // Near the 180th meridian degrees are counted through it.
  const turned = longitude.map((value) => (shifted && value < 0 ? value + 360 : value));
  const originLongitude = medianOf(turned.filter(Number.isFinite)) ?? 0;
  return { originLongitude: originLongitude > 180 ? originLongitude - 360 : originLongitude, originLatitude };
}

function farFrom(frame: LocalFrame, file: string, middle: LocalFrame): Problem[] {
  const distanceKm = greatCircleKm(
    middle.originLongitude,
    middle.originLatitude,
    frame.originLongitude,
    frame.originLatitude,
  );
  return distanceKm > ONE_FIELD_KM ? [problem('error', 'filesFarApart', { file }, { distanceKm })] : [];
}
