import { greatCircleKm } from '../geometry/great-circle.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { PassNumbering } from '../trial/trial-document.ts';
import { cuttingIn } from './cutting.ts';
import {
  type DrivenTrack,
  type FieldPass,
  type FieldPasses,
  fieldPasses,
  numberingOf,
} from './field-passes.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { medianOf } from './logging-interval.ts';
import { recordedHeader } from './measured-file.ts';
import { type PlacedFile, placeFile } from './placed-file.ts';

/** A field that is known by its harvest alone: its own plane, the files in it, and its passes in field order. */
export interface NumberedField {
  readonly frame: LocalFrame;
  /** No point is in a strip yet. */
  readonly placed: readonly PlacedFile[];
  readonly field: FieldPasses;
  /** One a file, from the widths recorded in its passes; null: none. */
  readonly recordedHeaderM: readonly (number | null)[];
  readonly numbering: PassNumbering;
}

/** One trial lies in one field. */
const ONE_FIELD_KM = 20;

/**
 * The passes of a harvest, numbered in field order. Refuses with `noHarvestFile`, `fileWithoutPositions`,
 * `filesFarApart` and `noHarvestPasses`.
 */
export function numberedField(files: readonly HarvestPointsInput[]): Outcome<NumberedField> {
  const [first] = files;
  const before = first === undefined ? undefined : NEWEST.get(first);
  if (before !== undefined && isSame(before.files, files)) return before.result;
  const result = numbered(files);
  if (first !== undefined) NEWEST.set(first, { files, result });
  return result;
}

/** Kept for as long as the points are: harvest, application and the drawing of the field ask one after the other. */
const NEWEST = new WeakMap<
  HarvestPointsInput,
  { readonly files: readonly HarvestPointsInput[]; readonly result: Outcome<NumberedField> }
>();

function isSame(one: readonly HarvestPointsInput[], other: readonly HarvestPointsInput[]): boolean {
  return one.length === other.length && one.every((file, k) => file === other[k]);
}

function numbered(files: readonly HarvestPointsInput[]): Outcome<NumberedField> {
  if (files.length === 0) return failure(problem('error', 'noHarvestFile'));
  const middles = files.map((file) => frameOfPoints([file]));
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
  const recordedHeaderM = placedInPasses({ placed, field }).map(recordedHeader);
  return success({ frame, placed, field, recordedHeaderM, numbering: numberingOf(tracks, field) });
}

/** All passes as one strip: which points were cut in passes, before it is said to whom they belong. */
export function placedInPasses({
  placed,
  field,
}: Pick<NumberedField, 'placed' | 'field'>): readonly PlacedFile[] {
  const all = new Int32Array(field.passes.length);
  return placed.map((file, k) => inStrips(file, k, field.passes, all));
}

/** A file with its points in the strips of their passes (-1: none). */
export function inStrips(
  file: PlacedFile,
  fileIndex: number,
  passes: readonly FieldPass[],
  stripOfPass: Int32Array,
): PlacedFile {
  const strip = new Int32Array(file.strip.length).fill(-1);
  for (const pass of passes) {
    if (pass.fileIndex !== fileIndex) continue;
    for (const { first, end } of pass.spans) strip.fill(stripOfPass[pass.number - 1]!, first, end);
  }
  return { ...file, strip };
}

function trackOf(file: PlacedFile): DrivenTrack {
  const { input, eastM, northM, interval } = file;
  return { file: input.file, eastM, northM, run: interval.run, cutting: cuttingIn(input) };
}

/** So many positions, evenly taken, tell where a field lies. */
const POSITIONS_FOR_MIDDLE = 100_000;

/**
 * The middle of all points, on whichever side of the 180th meridian they lie: medians, which a few wild positions do not
 * move. null where none can be read.
 */
export function frameOfPoints(files: readonly Positions[]): LocalFrame | null {
  const count = files.reduce((sum, { longitude }) => sum + longitude.length, 0);
  const step = Math.max(1, Math.ceil(count / POSITIONS_FOR_MIDDLE));
  const longitudes = new Float64Array(Math.ceil(count / step) + files.length);
  const latitudes = new Float64Array(longitudes.length);
  let [known, far] = [0, 0];
  for (const { longitude, latitude } of files) {
    for (let i = 0; i < longitude.length; i += step) {
      if (!Number.isFinite(longitude[i]! + latitude[i]!)) continue;
      longitudes[known] = longitude[i]!;
      latitudes[known++] = latitude[i]!;
      if (Math.abs(longitude[i]!) > 90) far += 1;
    }
  }
  if (known === 0) return null;
  // Near the 180th meridian degrees are counted through it.
  if (2 * far > known) for (let i = 0; i < known; i++) if (longitudes[i]! < 0) longitudes[i]! += 360;
  const originLongitude = medianOf(longitudes.subarray(0, known))!;
  return {
    originLongitude: originLongitude > 180 ? originLongitude - 360 : originLongitude,
    originLatitude: medianOf(latitudes.subarray(0, known))!,
  };
}

type Positions = Pick<HarvestPointsInput, 'longitude' | 'latitude'>;

function farFrom(frame: LocalFrame, file: string, middle: LocalFrame): Problem[] {
  const distanceKm = greatCircleKm(
    middle.originLongitude,
    middle.originLatitude,
    frame.originLongitude,
    frame.originLatitude,
  );
  return distanceKm > ONE_FIELD_KM ? [problem('error', 'filesFarApart', { file }, { distanceKm })] : [];
}
