import { reportFromStrips } from '../findings/report-from-strips.ts';
import type { ReportModel } from '../findings/report-model.ts';
import type { LocalFrame } from '../geometry/local-projection.ts';
import { appliedPolygonsNote } from '../harvest/applied-polygons.ts';
import { layoutFaults } from '../harvest/layout-faults.ts';
import type { PlacedPoints } from '../harvest/strip-values.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { layoutMoveProblems, trialAsItLies } from '../trial/layout-as-it-lies.ts';
import type { Problem } from '../trial/problem.ts';
import { problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { appliedOfTrial, offPlanOf } from './applied-of-trial.ts';
import { type AppliedShown, appliedShown } from './applied-shown.ts';
import { type FieldStrip, fieldStrips } from './field-strips.ts';
import { type FileRole, filesTwice, hashedFile } from './file-hashes.ts';
import { type FileUnderstood, type Harvested, harvestOf } from './harvest-of.ts';
import { harvestedPart } from './harvested-part.ts';
import type { InputFile, PipelineControl } from './input-file.ts';
import { KeptWork, reuse } from './kept-work.ts';
import { MADE_BY } from './made-by.ts';
import { namesPasses, type PassesOnField, passesOfTrial, stripsOfPasses } from './passes-of-trial.ts';
import { reportWithCleanings } from './report-with-cleanings.ts';
import { type SetAsideByTreatment, setAsideByTreatment } from './set-aside-by-treatment.ts';
import { treatmentsOnNoStrip, trialWithLayout } from './trial-with-layout.ts';

/** The field as it lies, in local metres: east and north of the trial's centre. */
export interface FieldDrawing {
  readonly frame: LocalFrame | null;
  readonly strips: readonly FieldStrip[];
  /** Where the strips were planned; none where they lie as planned. */
  readonly planned: readonly FieldStrip[];
  readonly points: PlacedPoints | null;
  /** Before there are strips no point is kept or set aside yet; absent: points are judged. */
  readonly arePointsJudged?: boolean;
  /** Where strips have no polygons: the harvest passes, numbered in field order, whether they belong to strips or not. */
  readonly passes: PassesOnField | null;
}

export interface AnalysisRun {
  readonly report: ReportModel;
  readonly field: FieldDrawing | null;
  readonly recognitions: readonly FileUnderstood[];
  /** What the logs of the application say; null: no log. */
  readonly applied: AppliedShown | null;
  /** null where no strip has points. */
  readonly setAside: SetAsideByTreatment | null;
  /** As it was analysed: with the strips of its layout file, where it had none itself, and where they lie. */
  readonly trial: TrialDocument;
}

/**
 * From files and trial document to the report model, the same in browser and command line. Bad input never throws:
 * `report.problems` says what is wrong, and `report.responses` is empty where nothing could be analysed.
 */
export async function analyseTrial(
  asked: TrialDocument,
  files: readonly InputFile[],
  wishes: PipelineControl = {},
): Promise<AnalysisRun> {
  const control = { kept: new KeptWork(), ...wishes };
  const laidOut = await trialWithLayout(asked, files);
  const trial = laidOut.ok ? laidOut.value : asked;
  const lying = trialAsItLies(trial);
  const problems: Problem[] = [...laidOut.problems];
  if (laidOut.ok) problems.push(...layoutProblems(trial, lying));
  const grown = harvestedPart(lying);
  const applied = await appliedOfTrial(grown, files, control);
  const offPlan = applied.found === null ? null : offPlanOf(applied.found);
  const harvested = await reuse(control, 'harvest', JSON.stringify(grown), () =>
    harvestOf(grown, files, control, offPlan),
  );
  problems.push(...appliedPolygonsNote(trial), ...applied.problems, ...harvested.problems);
  const passes = await passesOfTrial(trial, files, control);
  if (!passes.ok && !namesPasses(trial)) problems.push(...passes.problems);
  control.onProgress?.({ stage: 'analysing', share: 0 });
  const hashed = await hashes(trial, files, control);
  problems.push(...filesTwice(hashed));
  const ownCleaning = reportFromStrips({
    // Places as they lie; the move stands beside them for the record.
    trial: { ...trial, strips: lying.strips },
    madeBy: MADE_BY,
    files: hashed,
    strips: harvested.strips,
    responses: harvested.responses,
    weighed: harvested.weighed,
    machines: harvested.machines,
    assumptions: harvested.assumptions,
    problems,
  });
  const report = await reportWithCleanings(ownCleaning, lying, harvested, files, control);
  control.onProgress?.({ stage: 'analysing', share: 1 });
  return {
    report,
    field: drawing(trial, lying, harvested, passes.ok ? passes.value : null),
    recognitions: [...harvested.understood, ...applied.understood],
    applied: appliedShown(lying, applied),
    setAside: setAsideByTreatment(lying, harvested.strips),
    trial: lying,
  };
}

function layoutProblems(trial: TrialDocument, lying: TrialDocument): readonly Problem[] {
  if (trial.strips.length === 0) return [problem('error', 'noLayout')];
  return [...treatmentsOnNoStrip(trial), ...layoutMoveProblems(trial), ...layoutFaults(lying.strips)];
}

function drawing(
  trial: TrialDocument,
  lying: TrialDocument,
  harvested: Harvested,
  passes: PassesOnField | null,
): FieldDrawing | null {
  const frame = harvested.frame ?? passes?.frame ?? frameOfStrips(lying.strips);
  const strips = passes === null ? fieldStrips(lying, frame) : stripsOfPasses(lying, passes);
  if (strips.length === 0 && passes === null) return null;
  const planned = trial === lying || passes !== null ? [] : fieldStrips(trial, frame);
  return { frame, strips, planned, points: harvested.placed, passes };
}

async function hashes(
  trial: TrialDocument,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<ReportModel['trial']['files']> {
  const hashed = files.map(async (file) => {
    const role = roleOf(file, trial);
    if (role === null) return [];
    return [await reuse(control, `hash of ${file.name}`, role, () => hashedAside(file, role, control))];
  });
  return (await Promise.all(hashed)).flat();
}

async function hashedAside(file: InputFile, role: FileRole, { newSha256 }: PipelineControl) {
  const sha256 = (await file.sha256?.()) ?? null;
  return sha256 === null ? hashedFile(file, role, newSha256) : { name: file.name, role, sha256 };
}

function roleOf({ name }: InputFile, trial: TrialDocument): FileRole | null {
  if (name === trial.layoutFile?.path) return 'layout';
  if (trial.applicationFiles?.some(({ path }) => path === name)) return 'application';
  return trial.harvestFiles.find(({ path }) => path === name)?.kind ?? null;
}
