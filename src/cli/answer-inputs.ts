import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { trialWithAreas } from '../pipeline/areas-of-files.ts';
import { type InputFile, wholeOf } from '../pipeline/input-file.ts';
import { partsBeside, trialFromFiles } from '../pipeline/trial-from-files.ts';
import { applyCommand } from '../trial/commands.ts';
import { filesNamed } from '../trial/files-named.ts';
import { openTrial } from '../trial/open-trial.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { AnswerRequest } from './arguments.ts';
import { absolutePath, readInput } from './read-files.ts';

/** A trial document with the files it stands on. */
export interface OpenedTrial {
  readonly trial: TrialDocument;
  readonly files: readonly InputFile[];
}

/**
 * The document as asked for: opened or begun, with the files named on the command line taken in, areas left out, then
 * changed by --set, then completed by the files that it names itself.
 */
export async function openedTrial(request: AnswerRequest): Promise<Outcome<OpenedTrial>> {
  const base = documentOf(request);
  if (!base.ok) return base;
  const named = namedFiles(request);
  if (!named.ok) return named;
  const taken = await trialFromFiles(base.value.trial, named.value, request.appliedFiles);
  if (!taken.ok) return taken;
  const { layoutFile } = request;
  if (layoutFile !== null && taken.value.layoutFile?.path !== layoutFile)
    return failure(problem('error', 'notALayout', { file: layoutFile }));
  const areas = readAll(request.areaFiles.map((name) => ({ name, path: absolutePath(name) })));
  if (!areas.ok) return areas;
  const cut = await trialWithAreas(taken.value, areas.value);
  if (!cut.ok) return cut;
  const settled = withSettings(cut.value, request.settings);
  if (!settled.ok) return settled;
  const rest = filesOfDocument(settled.value, base.value.folder, named.value);
  if (!rest.ok) return rest;
  const said = [...taken.problems, ...cut.problems];
  return success({ trial: settled.value, files: [...named.value, ...rest.value] }, said);
}

function documentOf(request: AnswerRequest): Outcome<{ trial: TrialDocument | null; folder: string }> {
  if (request.trialFile === null) return success({ trial: null, folder: absolutePath('.') });
  const path = absolutePath(request.trialFile);
  const file = readInput(request.trialFile, path);
  if (!file.ok) return file;
  const opened = openTrial(new TextDecoder().decode(wholeOf(file.value.bytes)), request.trialFile);
  return opened.ok ? success({ trial: opened.value, folder: dirname(path) }) : opened;
}

function namedFiles(request: AnswerRequest): Outcome<readonly InputFile[]> {
  const { layoutFile, harvestFiles, appliedFiles } = request;
  const names = [...(layoutFile === null ? [] : [layoutFile]), ...harvestFiles, ...appliedFiles];
  return readAll([...new Set(names)].map((name) => ({ name, path: absolutePath(name) })));
}

/** Files that the document names by a path relative to itself and the command line did not name already. */
function filesOfDocument(
  trial: TrialDocument,
  folder: string,
  named: readonly InputFile[],
): Outcome<readonly InputFile[]> {
  const known = new Set(named.map(({ name }) => name));
  const wanted = filesNamed(trial).filter((path) => !known.has(path));
  return readAll(wanted.map((name) => ({ name, path: absolutePath(name, folder) })));
}

interface Wanted {
  readonly name: string;
  readonly path: string;
}

/** Reads the files, and the parts of a shapefile that lie beside its .shp. */
function readAll(wanted: readonly Wanted[]): Outcome<readonly InputFile[]> {
  const files: InputFile[] = [];
  const problems: Problem[] = [];
  for (const { name, path } of wanted.flatMap((one) => [one, ...besideOf(one)])) {
    const file = readInput(name, path);
    if (file.ok) files.push(file.value);
    else problems.push(...file.problems);
  }
  return problems.length > 0 ? failure(...problems) : success(files);
}

function besideOf({ name, path }: Wanted): readonly Wanted[] {
  const paths = partsBeside(path);
  return partsBeside(name)
    .map((part, index) => ({ name: part, path: paths[index] ?? part }))
    .filter((part) => existsSync(part.path));
}

function withSettings(trial: TrialDocument, settings: AnswerRequest['settings']): Outcome<TrialDocument> {
  let current: Outcome<TrialDocument> = success(trial);
  for (const { path, value } of settings) {
    if (!current.ok) return current;
    current = applyCommand(current.value, { name: 'setField', path, value });
  }
  return current;
}
