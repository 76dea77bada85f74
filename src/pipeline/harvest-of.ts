import type { LocalFrame } from '../geometry/local-projection.ts';
import type { OffPlan } from '../harvest/excluded-ground.ts';
import { exclusionsOverWeights } from '../harvest/exclusion-balance.ts';
import { saysWeights, withOtherResponses } from '../harvest/hand-beside-monitor.ts';
import { harvestHandTables } from '../harvest/hand-tables.ts';
import { harvestPoints, type PointHarvest } from '../harvest/harvest-points.ts';
import type { HarvestConditions } from '../harvest/lining-up.ts';
import { loadsOfTable } from '../harvest/loads-of-table.ts';
import { offPlanOverWeights } from '../harvest/off-plan-balance.ts';
import type { Assumption } from '../harvest/problem-codes.ts';
import { type WeighedHarvest, weighStrips } from '../harvest/scale-weights.ts';
import type { PlacedPoints, ResponseOfStrips, StripValue } from '../harvest/strip-values.ts';
import { headerWidthQuestion } from '../intake/header-width-question.ts';
import { readHandSource, recogniseSource } from '../intake/read-source.ts';
import type { Recognition } from '../intake/recognition.ts';
import { type SourceFile, sourceNamed } from '../intake/source-file.ts';
import { volumeBesideMass } from '../intake/volume-beside-mass.ts';
import { cropWithBushel, findCrop } from '../trial/crops.ts';
import { failure, type Outcome, type Problem, problem } from '../trial/problem.ts';
import type { HarvestFile, TrialDocument } from '../trial/trial-document.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { readPointsOnce } from './points-of-trial.ts';

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
  readonly factsOfPoint: PointHarvest['factsOfPoint'] | null;
  /** One a strip: all that its passes cut in it; null without points. */
  readonly cut: PointHarvest['cut'] | null;
  readonly frame: LocalFrame | null;
  /** Of each strip that one machine cut alone; null without points. */
  readonly machines: HarvestConditions['onlyMachine'] | null;
  readonly assumptions: readonly Assumption[];
  readonly problems: readonly Problem[];
  readonly understood: readonly FileUnderstood[];
  /** Scale beside monitor, where loads were weighed; else null. */
  readonly weighed: Pick<WeighedHarvest, 'loads' | 'levelFactor' | 'ratioTest'> | null;
}

/** Reads the harvest files that the trial names and brings them to strip values. */
export async function harvestOf(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
  offPlan: OffPlan | null = null,
): Promise<Harvested> {
  if (trial.strips.length === 0) return nothing([]);
  const kinds = new Set(trial.harvestFiles.map(({ kind }) => kind));
  if (kinds.size === 0) return nothing([problem('error', 'noHarvest')]);
  if (kinds.size > 1) return fromPointsAndScale(trial, files, control, offPlan);
  return kinds.has('points')
    ? fromPoints(trial, files, control, offPlan)
    : fromHand(trial, files, control, offPlan);
}

async function fromPoints(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
  offPlan: OffPlan | null,
): Promise<Harvested> {
  const crop = findCrop(trial.crop);
  const read = await readAll(trial, files, control, (file, asked) =>
    readPointsOnce(file, asked, crop, control),
  );
  if (read.values.length < trial.harvestFiles.length)
    return { ...nothing(read.problems), understood: read.understood };
  const placing = (share: number) => control.onProgress?.({ stage: 'placing', share });
  const harvest = harvestPoints(trial, read.values, placing, control.isCancelled, offPlan);
  const asked = [
    ...headerWidthQuestion(read.values, trial.harvest.headerWidthM),
    ...volumeBesideMass(read.values, trial.harvestFiles, crop?.poundsPerBushel ?? null),
  ];
  const problems = [...read.problems, ...asked, ...harvest.problems];
  if (!harvest.ok) return { ...nothing(problems), understood: read.understood };
  const { onlyMachine: machines } = harvest.value.conditions;
  return { ...harvest.value, machines, weighed: null, problems, understood: read.understood };
}

/** The monitor says where was cut and how strips differ; weights beside it set what they yielded. */
async function fromPointsAndScale(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
  offPlan: OffPlan | null,
): Promise<Harvested> {
  const ofKind = (kind: HarvestFile['kind']) => ({
    ...trial,
    harvestFiles: trial.harvestFiles.filter((file) => file.kind === kind),
  });
  const monitor = await fromPoints(ofKind('points'), files, control, offPlan);
  const crop = findCrop(trial.crop);
  const tables = await readAll(ofKind('hand'), files, control, (file, asked) =>
    readHandSource(file, asked, cropWithBushel(crop, asked.kgPerBushel), 'passes'),
  );
  const understood = [...monitor.understood, ...tables.understood];
  const problems = [...monitor.problems, ...tables.problems];
  if (monitor.cut === null || tables.values.length < ofKind('hand').harvestFiles.length)
    return { ...nothing(problems), understood };
  const further = withOtherResponses(trial, monitor, tables.values);
  problems.push(...further.problems);
  if (!further.ok) return { ...nothing(problems), understood };
  const weighing = tables.values.filter(saysWeights);
  if (weighing.length === 0) return { ...monitor, ...further.value, problems, understood };
  const read = weighing.map((table) => loadsOfTable(trial, table));
  const weighed = weighStrips(
    trial,
    { strips: further.value.strips, cut: monitor.cut },
    read.flatMap(({ loads }) => loads),
  );
  problems.push(...read.flatMap((table) => table.problems), ...weighed.problems);
  problems.push(...exclusionsOverWeights(trial), ...offPlanOverWeights(offPlan));
  if (!weighed.ok) return { ...nothing(problems), understood };
  const { strips, loads, levelFactor, ratioTest } = weighed.value;
  const scale = weighing.map(({ file }): Assumption => ({ code: 'yieldsFromScale', details: { file } }));
  const assumptions = [...further.value.assumptions, ...(loads.length === 0 ? [] : scale)];
  return {
    ...monitor,
    strips,
    responses: further.value.responses,
    assumptions,
    problems,
    understood,
    weighed: loads.length === 0 ? null : { loads, levelFactor, ratioTest },
  };
}

async function fromHand(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
  offPlan: OffPlan | null,
): Promise<Harvested> {
  const crop = findCrop(trial.crop);
  const read = await readAll(trial, files, control, (file, asked) =>
    readHandSource(file, asked, cropWithBushel(crop, asked.kgPerBushel)),
  );
  if (read.values.length < trial.harvestFiles.length)
    return { ...nothing(read.problems), understood: read.understood };
  const harvest = harvestHandTables(trial, read.values);
  const problems = [
    ...read.problems,
    ...harvest.problems,
    ...exclusionsOverWeights(trial),
    ...offPlanOverWeights(offPlan),
  ];
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
  return {
    strips: [],
    responses: [],
    placed: null,
    factsOfPoint: null,
    cut: null,
    frame: null,
    machines: null,
    assumptions: [],
    problems,
    understood: [],
    weighed: null,
  };
}
