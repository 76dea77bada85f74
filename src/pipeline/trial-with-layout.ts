import { readLayoutSource } from '../intake/read-source.ts';
import { type SourceFile, sourceNamed } from '../intake/source-file.ts';
import { applyCommand } from '../trial/commands.ts';
import { type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { LayoutFile, TrialDocument } from '../trial/trial-document.ts';
import type { InputFile } from './input-file.ts';

/**
 * The trial with its strips. Strips that stand in the document are the ones that count: the layout file is read
 * only where there are none, so that what was edited is never overwritten by what was planned.
 */
export async function trialWithLayout(
  trial: TrialDocument,
  files: readonly InputFile[],
): Promise<Outcome<TrialDocument>> {
  if (trial.strips.length > 0 || trial.layoutFile === null) return success(trial);
  const { path } = trial.layoutFile;
  const file = sourceNamed(path, files);
  if (file === null)
    return { ok: false, problems: [problem('error', 'fileMissing', { file: path }, { path })] };
  return takeLayoutFile(trial, file, trial.layoutFile);
}

/** Reads a layout and takes its treatments, blocks and strips into the trial. */
export async function takeLayoutFile(
  trial: TrialDocument,
  file: SourceFile,
  layoutFile: LayoutFile,
): Promise<Outcome<TrialDocument>> {
  const read = await readLayoutSource(file, layoutFile.properties);
  if (!read.ok) return read;
  const layout = { ...read.value.layout, file: layoutFile };
  const taken = applyCommand(trial, { name: 'takeLayout', layout });
  return taken.ok ? success(taken.value, read.problems) : taken;
}

/** Treatments that were entered but lie on no strip. */
export function treatmentsOnNoStrip(trial: TrialDocument): readonly Problem[] {
  const used = new Set(trial.strips.map(({ treatment }) => treatment));
  return trial.treatments
    .filter(({ id }) => !used.has(id))
    .map(({ name }) => problem('warning', 'treatmentOnNoStrip', {}, { treatment: name }));
}
