import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import { filesNamed } from '../../trial/files-named.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import type { AnalysisState } from './analysis.ts';
import type { Stage } from './router.ts';
import type { OpenedFile } from './session.ts';

/** What the stage bar says of a stage: a mark, and in a few words what is there or what is missing. */
export interface Readiness {
  readonly state: 'ready' | 'missing' | 'look';
  readonly says: string;
}

export type ReadinessByStage = Readonly<Record<Stage, Readiness>>;

export function readinessOf(
  trial: TrialDocument,
  files: readonly OpenedFile[],
  analysis: AnalysisState,
): ReadinessByStage {
  const answer = answerReadiness(analysis);
  return {
    trial: trialReadiness(trial),
    layout: layoutReadiness(trial, analysis.last),
    harvest: harvestReadiness(trial, files, analysis.last),
    answer,
    handout:
      (analysis.last?.report.responses.length ?? 0) === 0
        ? missing('needs an answer')
        : { ...answer, says: 'can be printed' },
  };
}

function trialReadiness(trial: TrialDocument): Readiness {
  if (trial.name.trim() === '') return missing('needs a name');
  if (trial.treatments.length < 2) return missing('needs two treatments');
  if (!trial.treatments.some(({ isCheck }) => isCheck)) return look('no check named');
  return ready(counted(trial.treatments.length, 'treatment'));
}

/** What a log asks stands on the Layout page. */
const ASKED_OF_LOGS = ['askSwath', 'askProductMeaning'];

function layoutReadiness(trial: TrialDocument, run: AnalysisRun | null): Readiness {
  if (trial.strips.length === 0) return missing('no strips yet');
  if (trial.design === 'randomizedCompleteBlocks' && trial.strips.some(({ block }) => block === null)) {
    return look('strips without a block');
  }
  if (run?.report.problems.some(({ code }) => ASKED_OF_LOGS.includes(code)))
    return look('a log asks something');
  return ready(counted(trial.strips.length, 'strip'));
}

function harvestReadiness(
  trial: TrialDocument,
  files: readonly OpenedFile[],
  run: AnalysisRun | null,
): Readiness {
  if (trial.harvestFiles.length === 0) return missing('no harvest file yet');
  const absent = absentFiles({ ...trial, layoutFile: null }, files);
  if (absent.length > 0) return missing(`${counted(absent.length, 'file')} to add again`);
  const questions = run?.recognitions.flatMap(({ recognition }) => recognition?.questions ?? []).length ?? 0;
  if (questions > 0) return look(`${counted(questions, 'question')} to answer`);
  const isByPass = run !== null && run.field !== null && run.field.passes !== null;
  if (isByPass && trial.strips.every(({ passes }) => (passes?.length ?? 0) === 0))
    return look('passes to assign');
  return ready(counted(trial.harvestFiles.length, 'file'));
}

function answerReadiness({ stage, last }: AnalysisState): Readiness {
  if (stage === 'running') return look('being worked out');
  if (stage === 'failed') return look('could not be worked out');
  if (stage === 'cancelled') return look('was stopped');
  const responses = last?.report.responses ?? [];
  if (responses.length === 0) return missing('waits for strips and harvest');
  const answered = responses.filter(({ refusal }) => refusal === null);
  return answered.length > 0 ? ready('there is one') : look('cannot be given');
}

/** The files that the trial stands on and the browser does not hold; its layout only where it has no strips from it. */
export function absentFiles(trial: TrialDocument, files: readonly OpenedFile[]): readonly string[] {
  const layoutFile = trial.strips.length === 0 ? trial.layoutFile : null;
  return filesNamed({ ...trial, layoutFile }).filter(
    (path) => !files.some(({ name }) => isSameFile(name, path)),
  );
}

/** A trial names its files by a path; what the user hands over comes with its last part alone. */
export function isSameFile(name: string, path: string): boolean {
  return lastPart(name) === lastPart(path);
}

function lastPart(path: string): string {
  return path.split(/[\\/]/).at(-1) ?? path;
}

export function counted(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? '' : 's'}`;
}

function ready(says: string): Readiness {
  return { state: 'ready', says };
}

function look(says: string): Readiness {
  return { state: 'look', says };
}

function missing(says: string): Readiness {
  return { state: 'missing', says };
}
