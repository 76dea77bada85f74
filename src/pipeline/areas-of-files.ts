import { intakeProblem } from '../intake/problem-codes.ts';
import { type AreaOfFile, readAreas } from '../intake/read-areas.ts';
import { sourcesOf } from '../intake/source-file.ts';
import { applyCommand } from '../trial/commands.ts';
import { type ExclusionArea, freeAreaIds } from '../trial/exclusion-area.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { InputFile } from './input-file.ts';

/**
 * The areas of files that the user handed over as ground to leave out, as the trial takes them up: numbered on from its own,
 * strips by their ids. One fault and none of them is taken, since half of the areas would leave some treatments more ground.
 */
export async function areasOfFiles(
  trial: TrialDocument,
  files: readonly InputFile[],
): Promise<Outcome<readonly ExclusionArea[]>> {
  const found: { readonly file: string; readonly area: AreaOfFile }[] = [];
  const problems: Problem[] = [];
  for (const source of sourcesOf(files)) {
    const read = await readAreas(source);
    problems.push(...read.problems);
    if (read.ok) found.push(...read.value.map((area) => ({ file: source.name, area })));
  }
  const ids = freeAreaIds(trial, found.length);
  const areas = found.map(({ file, area }, k) => taken(trial, file, area, ids[k]!, problems));
  const isFaulty = problems.some(({ severity }) => severity === 'error');
  return isFaulty ? failure(...problems) : success(areas, problems);
}

/** The command line's form: the trial with these areas left out. */
export async function trialWithAreas(
  trial: TrialDocument,
  files: readonly InputFile[],
): Promise<Outcome<TrialDocument>> {
  const areas = await areasOfFiles(trial, files);
  if (!areas.ok) return areas;
  let current: Outcome<TrialDocument> = success(trial);
  for (const area of areas.value) {
    if (!current.ok) return current;
    current = applyCommand(current.value, { name: 'addExclusion', area });
  }
  return current.ok ? success(current.value, areas.problems) : current;
}

function taken(
  { strips }: TrialDocument,
  file: string,
  { feature, propertyNames, strip, ...area }: AreaOfFile,
  id: string,
  problems: Problem[],
): ExclusionArea {
  const key = (text: string) => text.trim().toLowerCase();
  const known = strip === null ? null : (strips.find((one) => key(one.id) === key(strip))?.id ?? null);
  const ids = strips.map((one) => one.id);
  // Strips that the layout file is still to bring are not known here.
  if (strip !== null && known === null && strips.length > 0)
    problems.push(intakeProblem('areaStripUnknown', { file }, { feature, strip, strips: ids }));
  if (strip !== null && area.note.trim() === '')
    problems.push(intakeProblem('areaWithoutWhy', { file }, { feature, strip, properties: propertyNames }));
  return { id, ...area, strip: strip === null ? null : (known ?? strip) };
}
