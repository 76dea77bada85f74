import type { LocalFrame } from '../geometry/local-projection.ts';
import { harvestHand } from '../harvest/harvest-hand.ts';
import { harvestPoints } from '../harvest/harvest-points.ts';
import type { Assumption } from '../harvest/problem-codes.ts';
import type { PlacedPoints, ResponseOfStrips, StripValue } from '../harvest/strip-values.ts';
import { headerWidthQuestion } from '../intake/header-width-question.ts';
import { readHandSource, readPointsSource, recogniseSource } from '../intake/read-source.ts';
import type { Recognition } from '../intake/recognition.ts';
import { type SourceFile, sourceNamed } from '../intake/source-file.ts';
import { findCrop } from '../trial/crops.ts';
import { failure, type Outcome, type Problem, problem } from '../trial/problem.ts';
import type { HarvestFile, TrialDocument } from '../trial/trial-document.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { reuse } from './kept-work.ts';

/** What was understood of one harvest file; `recognition` is null where it is no table. */
export interface FileUnderstood {
  readonly file: string;
  readonly recognition: Recognition | null;
  readonly yieldHeading: string | null;
}

/** One value a strip and response, and all that was met on the way there. */
export interface Harvested {
  readonly strips: readonly StripValue[];
  readonly responses: readonly ResponseOfStrips[];
  readonly placed: PlacedPoints | null;
  readonly frame: LocalFrame | null;
  readonly assumptions: readonly Assumption[];
  readonly problems: readonly Problem[];
  readonly understood: readonly FileUnderstood[];
}

/** Reads the harvest files that the trial names and brings them to strip values. */
export async function harvestOf(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Harvested> {
  if (trial.strips.length === 0) return nothing([]);
  const kinds = new Set(trial.harvestFiles.map(({ kind }) => kind));
  if (kinds.size === 0) return nothing([problem('error', 'noHarvest')]);
  if (kinds.size > 1) return nothing([problem('error', 'bothKindsOfHarvest')]);
  return kinds.has('points') ? fromPoints(trial, files, control) : fromHand(trial, files, control);
}

async function fromPoints(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Harvested> {
  const crop = findCrop(trial.crop);
  const read = await readAll(trial, files, control, (file, asked) =>
    reuse(control, `points of ${file.name}`, JSON.stringify([asked, crop]), () =>
      readPointsSource(file, asked, crop),
    ),
  );
  if (read.values.length < trial.harvestFiles.length)
    return { ...nothing(read.problems), understood: read.understood };
  const placing = (share: number) => control.onProgress?.({ stage: 'placing', share });
  const harvest = harvestPoints(trial, read.values, placing, control.isCancelled);
  const asked = headerWidthQuestion(read.values, trial.harvest.headerWidthM);
  const problems = [...read.problems, ...asked, ...harvest.problems];
  if (!harvest.ok) return { ...nothing(problems), understood: read.understood };
  return { ...harvest.value, problems, understood: read.understood };
}

async function fromHand(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<Harvested> {
  const crop = findCrop(trial.crop);
  const read = await readAll(trial, files, control, (file, asked) => readHandSource(file, asked, crop));
  if (read.values.length < trial.harvestFiles.length)
    return { ...nothing(read.problems), understood: read.understood };
  const [hand, ...further] = read.values;
  if (hand === undefined || further.length > 0) return nothing([problem('error', 'severalHandFiles')]);
  const harvest = harvestHand(trial, hand);
  const problems = [...read.problems, ...harvest.problems];
  if (!harvest.ok) return { ...nothing(problems), understood: read.understood };
  return { ...nothing(problems), ...harvest.value, problems, understood: read.understood };
}

interface ReadFiles<T> {
  readonly values: readonly T[];
  readonly problems: readonly Problem[];
  readonly understood: readonly FileUnderstood[];
}

interface ReadTable {
  readonly recognition: Recognition;
  readonly yieldColumn: { readonly heading: string };
}

/** Reads every harvest file of the trial, in the document's order; a file that cannot be read leaves its problems. */
async function readAll<T extends ReadTable>(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
  read: (file: SourceFile, asked: HarvestFile) => Promise<Outcome<T>>,
): Promise<ReadFiles<T>> {
  const values: T[] = [];
  const problems: Problem[] = [];
  const understood: FileUnderstood[] = [];
  for (const [index, asked] of trial.harvestFiles.entries()) {
    control.onProgress?.({ stage: 'reading', share: index / trial.harvestFiles.length });
    const file = sourceNamed(asked.path, files);
    const outcome = file === null ? missing(asked.path) : await read(file, asked);
    problems.push(...outcome.problems);
    if (outcome.ok) values.push(outcome.value);
    if (file !== null)
      understood.push(outcome.ok ? readingOf(file, outcome.value) : await attempted(file, asked));
  }
  return { values, problems, understood };
}

function missing(path: string): Outcome<never> {
  return failure(problem('error', 'fileMissing', { file: path }, { path }));
}

function readingOf(file: SourceFile, table: ReadTable): FileUnderstood {
  return { file: file.name, recognition: table.recognition, yieldHeading: table.yieldColumn.heading };
}

/** What could be understood of a file that was not read, so that the user can answer what it asks. */
async function attempted(file: SourceFile, asked: HarvestFile): Promise<FileUnderstood> {
  const reading = await recogniseSource(file, asked);
  return { file: file.name, recognition: reading.ok ? reading.value.recognition : null, yieldHeading: null };
}

function nothing(problems: readonly Problem[]): Harvested {
  return { strips: [], responses: [], placed: null, frame: null, assumptions: [], problems, understood: [] };
}
