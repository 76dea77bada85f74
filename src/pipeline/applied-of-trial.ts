import { type OutlineOfStrip, outlinesOfLogs } from '../harvest/applied-outlines.ts';
import { type AsApplied, asApplied, type GivenLog, type GroundOfStrips } from '../harvest/as-applied.ts';
import type { OffPlan } from '../harvest/excluded-ground.ts';
import { harvestGround } from '../harvest/harvest-ground.ts';
import { readApplicationSource, recogniseApplication } from '../intake/read-application.ts';
import { sourceNamed } from '../intake/source-file.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { FileUnderstood } from './harvest-of.ts';
import { harvestedPart } from './harvested-part.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { reuse } from './kept-work.ts';
import { pointsOfTrial } from './points-of-trial.ts';

/** What the logs of the application say about the strips, and all that was met on the way there. */
export interface AppliedOfTrial {
  /** null: the trial names no log, none could be read, or no strip has an outline. */
  readonly found: AsApplied | null;
  /** Areas of the logs that could stand for the outlines of strips. */
  readonly outlines: readonly OutlineOfStrip[];
  readonly problems: readonly Problem[];
  readonly understood: readonly FileUnderstood[];
}

/** Reads the logs that the trial names and lays them over its strips; kept for as long as trial and files stand. */
export function appliedOfTrial(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<AppliedOfTrial> {
  return reuse(control, 'application', JSON.stringify(harvestedPart(trial)), () =>
    lay(trial, files, control),
  );
}

/** What harvest needs of it. */
export function offPlanOf({ offPlan, strips }: AsApplied): OffPlan {
  return {
    stretches: offPlan,
    isAsked: strips.map((strip) => strip !== null && strip.coveredShare !== null),
  };
}

async function lay(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<AppliedOfTrial> {
  const logs: GivenLog[] = [];
  const problems: Problem[] = [];
  const understood: FileUnderstood[] = [];
  for (const asked of trial.applicationFiles ?? []) {
    const source = sourceNamed(asked.path, files);
    if (source === null) {
      problems.push(problem('error', 'fileMissing', { file: asked.path }, { path: asked.path }));
      continue;
    }
    const read = await readApplicationSource(source, asked);
    problems.push(...read.problems);
    if (read.ok) logs.push(...read.value.map((log) => ({ asked, log })));
    const reading = read.ok ? null : await recogniseApplication(source, asked);
    const recognition = read.ok
      ? (read.value[0]?.recognition ?? null)
      : reading?.ok
        ? reading.value.recognition
        : null;
    understood.push({ file: asked.path, recognition, yieldHeading: null });
  }
  const nothing: AppliedOfTrial = { found: null, outlines: [], problems, understood };
  if (logs.length === 0 || trial.strips.length === 0) return nothing;
  const byPass = await groundOfPasses(trial, files, control);
  // What keeps the passes from being ground is said with the harvest.
  if (byPass === 'unknown') return nothing;
  const laid = byPass === null ? asApplied(trial, logs) : asApplied(trial, logs, byPass);
  const outlines = byPass === null ? outlinesOfLogs(trial, logs) : [];
  return { found: laid.found, outlines, problems: [...problems, ...laid.problems], understood };
}

/** What the passes of strips without polygons cut; null: strips have polygons, or no points. */
async function groundOfPasses(
  trial: TrialDocument,
  files: readonly InputFile[],
  { onProgress: _, ...quiet }: PipelineControl,
): Promise<GroundOfStrips | 'unknown' | null> {
  const hasPoints = trial.harvestFiles.some(({ kind }) => kind === 'points');
  if (!hasPoints || trial.strips.some(({ polygon }) => polygon !== null)) return null;
  const points = await pointsOfTrial(trial, files, quiet);
  if (!points.ok) return 'unknown';
  const ground = harvestGround(trial, points.value);
  return ground.ok ? ground.value : 'unknown';
}
