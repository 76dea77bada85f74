import type { Corner } from '../geometry/overlap.ts';
import { SHORTEST_PIECE_M } from '../trial/pass-cuts.ts';
import { isSameNumbering } from '../trial/pass-numbering.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { cutField, idleCuts } from './cut-field.ts';
import { saysHeader } from './cutting.ts';
import type { FieldPass } from './field-passes.ts';
import type { HarvestGround } from './harvest-ground.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { cutPasses } from './harvest-passes.ts';
import { medianOf } from './logging-interval.ts';
import type { MeasuredFile } from './measured-file.ts';
import { inStrips, type NumberedField, numberedField } from './numbered-field.ts';
import { type ChosenPasses, drivenPasses, type JudgedFile } from './pass-choice.ts';
import { groundOfPasses, passOutline } from './pass-ground.ts';
import type { PassInStrip, Stretch } from './pass-placement.ts';
import type { PlacedFile } from './placed-file.ts';
import type { Assumption } from './problem-codes.ts';
import type { StripGround } from './strip-ground.ts';

type Grounds = readonly (StripGround | null)[];

/**
 * The ground of strips that have no polygon: what the harvest passes cut that were assigned to them, numbered in
 * field order. A point belongs to the strip of its pass, wherever it lies; points between passes, and those of passes
 * that belong to no strip, lie outside. A strip ends where each of its passes does; it has no sides to keep away
 * from, and no area of its own.
 *
 * Refuses with `noHarvestFile`, `fileWithoutPositions`, `filesFarApart`, `noHarvestPasses`, `passesRenumbered` (the
 * track is another one than the numbers were given for), `passUnknown` and `passInTwoStrips`.
 */
export function groundByPass(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
): Outcome<HarvestGround> {
  const whole = numberedField(files);
  if (!whole.ok) return whole;
  const numbered = cutField(whole.value, trial.passCuts ?? []);
  const faults = numberingFaults(trial, numbered);
  if (faults.length > 0) return failure(...faults);
  const { frame, field } = numbered;
  const stripOfPass = assignedStrips(trial, field.passes.length);
  const placed = numbered.placed.map((file, k) => inStrips(file, k, field.passes, stripOfPass));
  const outlines = passOutlines(numbered, trial.harvest);
  const grounds = trial.strips.map(({ id, passes }, index) =>
    passes == null || passes.length === 0
      ? null
      : groundOfPasses(
          { index, id },
          passes.map((number) => outlines[number - 1]!),
        ),
  );
  return success({
    frame,
    grounds,
    isDrawn: false,
    place: (_, index) => placed[index]!,
    choose: (measured) => assignedPasses(measured, field.passes, stripOfPass, grounds),
    assumptions: assumptionsOf(numbered, field.passes.length - whole.value.field.passes.length),
    problems: [...warnings(trial, numbered, placed), ...idleCutProblem(trial, whole.value)],
    fieldPassAt: (fileIndex, at) => passNumberAt(field.passes, fileIndex, at),
  });
}

function passNumberAt(passes: readonly FieldPass[], fileIndex: number, at: number): number | null {
  const holds = (pass: FieldPass) =>
    pass.fileIndex === fileIndex && pass.spans.some(({ first, end }) => at >= first && at < end);
  return passes.find(holds)?.number ?? null;
}

/** One outline a pass, as wide as the header; where no width is known, as wide as passes lie apart. */
export function passOutlines(
  { placed, field, recordedHeaderM }: NumberedField,
  settings: Pick<HarvestSettings, 'headerWidthM'>,
): readonly (readonly Corner[])[] {
  const { passes } = field;
  const gaps = passes.slice(1).map(({ acrossM }, k) => acrossM - passes[k]!.acrossM);
  const apartM = medianOf(Float64Array.from(gaps.filter((gap) => gap > 1))) ?? WIDTH_OF_ONE_PASS_M;
  const widths = recordedHeaderM.map((recorded) => settings.headerWidthM ?? recorded ?? apartM);
  return passes.map((pass) => passOutline(pass, placed[pass.fileIndex]!, widths[pass.fileIndex]!));
}

/** To draw a single pass of a file that records no width. */
const WIDTH_OF_ONE_PASS_M = 6;

function numberingFaults(trial: TrialDocument, { numbering, field }: NumberedField): Problem[] {
  const kept = trial.passNumbering ?? null;
  const { count, from } = numbering;
  if (kept !== null && !isSameNumbering(kept, numbering)) {
    const details = { count, from, before: kept.count, fromBefore: kept.from, filesBefore: kept.files };
    return [problem('error', 'passesRenumbered', {}, details)];
  }
  const first = new Map<number, string>();
  return trial.strips.flatMap(({ id, passes }) =>
    (passes ?? []).flatMap((pass) => {
      if (pass > field.passes.length)
        return [problem('error', 'passUnknown', {}, { strip: id, pass, count })];
      const before = first.get(pass);
      if (before !== undefined)
        return [problem('error', 'passInTwoStrips', {}, { pass, first: before, second: id })];
      first.set(pass, id);
      return [];
    }),
  );
}

/** Index of the strip of each pass, -1: none. */
function assignedStrips({ strips }: TrialDocument, count: number): Int32Array {
  const stripOfPass = new Int32Array(count).fill(-1);
  strips.forEach(({ passes }, index) => {
    for (const number of passes ?? []) stripOfPass[number - 1] = index;
  });
  return stripOfPass;
}

function assignedPasses(
  files: readonly MeasuredFile[],
  passes: readonly FieldPass[],
  stripOfPass: Int32Array,
  grounds: Grounds,
): ChosenPasses {
  const judged = files.map((file, k) => {
    const own = passes.filter(({ fileIndex, number }) => fileIndex === k && stripOfPass[number - 1]! >= 0);
    return assignedFile(file, own, stripOfPass, grounds);
  });
  const used = new Set(judged.flatMap(({ stretches }) => stretches));
  return { files: judged, passes: drivenPasses(judged, used), problems: [] };
}

function assignedFile(
  file: MeasuredFile,
  passes: readonly FieldPass[],
  stripOfPass: Int32Array,
  grounds: Grounds,
): JudgedFile {
  const { eastM, northM, interval, trackHeadingDegrees } = file;
  const track = cutPasses({ eastM, northM, run: interval.run, headingDegrees: trackHeadingDegrees });
  const stretches = passes.flatMap((pass) => {
    const strip = stripOfPass[pass.number - 1]!;
    return pass.spans.map(({ first, end }): Stretch => {
      const at = Int32Array.from({ length: end - first }, (_, k) => first + k);
      const direction = directionIn(grounds[strip]!, file, first, end - 1);
      return { pass: track.passOfPoint[first]!, strip, at, direction, shareInside: null };
    });
  });
  return { ...file, track, stretches, straddles: new Uint8Array(file.strip.length) };
}

function directionIn(
  { oriented }: StripGround,
  { eastM, northM }: MeasuredFile,
  first: number,
  last: number,
): PassInStrip['direction'] {
  const [east, north] = [eastM[last]! - eastM[first]!, northM[last]! - northM[first]!];
  return east * oriented.alongEast + north * oriented.alongNorth >= 0 ? 'along' : 'against';
}

function assumptionsOf({ field, numbering, placed }: NumberedField, cutsMade: number): readonly Assumption[] {
  const { count, from } = numbering;
  const unsaid = placed.filter(({ input }) => !saysHeader(input));
  return [
    { code: 'stripsByPass', details: { count, from } },
    ...(cutsMade === 0 ? [] : [{ code: 'passesCut', details: { cuts: cutsMade } } as const]),
    ...(field.leftOut.across + field.leftOut.short === 0
      ? []
      : [{ code: 'stretchesUnnumbered', details: { ...field.leftOut } } as const]),
    ...unsaid.map(({ input }) => ({ code: 'passEndsFromYield', details: { file: input.file } }) as const),
  ];
}

function idleCutProblem({ passCuts = [] }: TrialDocument, whole: NumberedField): Problem[] {
  const idle = idleCuts(whole, passCuts);
  return idle === 0
    ? []
    : [problem('warning', 'passCutOnNoPass', {}, { count: idle, shortestM: SHORTEST_PIECE_M })];
}

function warnings(
  trial: TrialDocument,
  { numbering }: NumberedField,
  placed: readonly PlacedFile[],
): Problem[] {
  const { count, from } = numbering;
  const bare = trial.strips.filter(({ passes }) => (passes?.length ?? 0) === 0).map(({ id }) => id);
  const unused = placed.filter(({ strip }) => strip.every((index) => index < 0));
  return [
    ...(trial.passNumbering == null ? [problem('warning', 'passesNotHeld', {}, { count, from })] : []),
    ...(bare.length > 0
      ? [problem('warning', 'stripsWithoutPass', {}, { strips: bare, count: bare.length })]
      : []),
    ...unused.map(({ input }) => problem('warning', 'fileWithoutStripPass', { file: input.file })),
  ];
}
