import type { LocalFrame, LocalPosition } from '../geometry/local-projection.ts';
import { cutField } from '../harvest/cut-field.ts';
import { passOutlines } from '../harvest/ground-by-pass.ts';
import { numberedField } from '../harvest/numbered-field.ts';
import type { WholePass } from '../trial/pass-cuts.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { PassNumbering, TrialDocument } from '../trial/trial-document.ts';
import { type FieldStrip, stripsWithRings } from './field-strips.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { reuse } from './kept-work.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/** One harvest pass as it lies. */
export interface PassOnField {
  /** From 1, in field order. */
  readonly number: number;
  readonly file: string;
  readonly points: number;
  readonly lengthM: number;
  /** Its outline, in metres east and north of the frame's origin. */
  readonly ring: readonly (readonly [eastM: number, northM: number])[];
}

export interface PassesOnField {
  readonly frame: LocalFrame;
  readonly passes: readonly PassOnField[];
  readonly numbering: PassNumbering;
  /** The way that the passes run, and the passes before any cut, in metres along it and across. */
  readonly along: LocalPosition;
  readonly whole: readonly WholePass[];
  /** Cut stretches that are no pass over the field. */
  readonly leftOut: { readonly across: number; readonly short: number };
}

/** Does any strip name the passes that it was harvested in? */
export function namesPasses({ strips }: TrialDocument): boolean {
  return strips.some(({ passes }) => (passes?.length ?? 0) > 0);
}

/** The numbered passes of a trial whose strips have no polygons; null where they have, or where there are no points. */
export async function passesOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<PassesOnField | null>> {
  const isByPass = trial.strips.length > 0 && trial.strips.every(({ polygon }) => polygon === null);
  if (!isByPass || trial.harvestFiles.every(({ kind }) => kind !== 'points')) return success(null);
  const key = JSON.stringify([trial.harvestFiles, trial.crop, trial.harvest.headerWidthM, trial.passCuts]);
  return reuse(control, 'passes', key, () => numberedPasses(trial, files, control));
}

async function numberedPasses(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Outcome<PassesOnField>> {
  const { onProgress: _, ...quiet } = control;
  const points = await pointsOfTrial(trial, files, quiet);
  // Files that do not read are said where they are harvested.
  if (!points.ok) return { ok: false, problems: [] };
  const uncut = numberedField(points.value);
  if (!uncut.ok) return uncut;
  const numbered = cutField(uncut.value, trial.passCuts ?? []);
  const { frame, field, numbering } = numbered;
  const outlines = passOutlines(numbered, trial.harvest);
  const whole = uncut.value.field.passes.map(({ fromM, toM, acrossM }) => ({ fromM, toM, acrossM }));
  const passes = field.passes.map(({ number, file, points: count, lengthM }, k) => ({
    number,
    file,
    points: count,
    lengthM,
    ring: outlines[k]!,
  }));
  return success({ frame, passes, numbering, along: field.along, whole, leftOut: field.leftOut });
}

/** Strips drawn as what their passes cut. */
export function stripsOfPasses(trial: TrialDocument, { passes }: PassesOnField): readonly FieldStrip[] {
  return stripsWithRings(trial, (strip) => {
    const own = (strip.passes ?? []).flatMap((number) => passes[number - 1] ?? []);
    return own.length === 0 ? null : own.map(({ ring }) => ring);
  });
}
