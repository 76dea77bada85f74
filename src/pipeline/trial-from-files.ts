import { decodeText } from '../intake/decode-text.ts';
import { wholeOf } from '../intake/file-bytes.ts';
import { readLayoutSource, sniffSource } from '../intake/read-source.ts';
import { namesBeside, type SourceFile, sourcesOf } from '../intake/source-file.ts';
import { applyCommand, type TrialCommand } from '../trial/commands.ts';
import { openTrial } from '../trial/open-trial.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import { newApplicationFile, newTrial } from '../trial/starting-settings.ts';
import type { HarvestFile, LayoutFile, TrialDocument } from '../trial/trial-document.ts';
import type { InputFile } from './input-file.ts';

/** What the files that a user handed over mean for the trial: edits to be made, in order. */
export interface FilesTaken {
  readonly commands: readonly TrialCommand[];
  readonly problems: readonly Problem[];
}

/**
 * Tells by content what each file is and proposes the edits: open a trial document, take a layout, take a harvest
 * file. A file that is none of these leaves a problem and no edit, so nothing already entered is lost. The parts of
 * a shapefile are one file. Files that are said to be logs of the application are taken as such, whatever else they
 * might pass for: areas look like a layout.
 */
export async function takeFiles(
  files: readonly InputFile[],
  logs: readonly string[] = [],
): Promise<FilesTaken> {
  const taken = await Promise.all(
    sourcesOf(files).map((file) =>
      logs.includes(file.name) ? success(takingLog(file.name)) : takeFile(file),
    ),
  );
  const order = ['openTrial', 'takeLayout', 'takeHarvestFile', 'takeApplicationFile'];
  const commands = taken.flatMap((one) => (one.ok ? [one.value] : []));
  const layouts = commands.flatMap((one) => (one.name === 'takeLayout' ? [one.layout.file?.path ?? ''] : []));
  const isOneLayout = layouts.length < 2;
  return {
    commands: commands
      .filter(({ name }) => isOneLayout || name !== 'takeLayout')
      .sort((a, b) => order.indexOf(a.name) - order.indexOf(b.name)),
    problems: [
      ...taken.flatMap((one) => one.problems),
      ...(isOneLayout ? [] : [problem('error', 'severalLayouts', {}, { files: layouts })]),
    ],
  };
}

/** The command line's form: a document begun or given, with files taken in; the first fault stops. */
export async function trialFromFiles(
  trial: TrialDocument | null,
  files: readonly InputFile[],
  logs: readonly string[] = [],
): Promise<Outcome<TrialDocument>> {
  const { commands, problems } = await takeFiles(files, logs);
  const errors = problems.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) return failure(...errors);
  let current: Outcome<TrialDocument> = success(trial ?? newTrial('Trial without a document'));
  for (const command of commands) {
    if (!current.ok) return current;
    current = applyCommand(current.value, keepingAnswers(current.value, command));
  }
  return current.ok ? success(current.value, problems) : current;
}

/** The names of files that belong to this one if they lie beside it: the further parts of a shapefile. */
export function partsBeside(name: string): readonly string[] {
  return namesBeside(name);
}

/** A harvest file or a log taken anew under its old name keeps what was answered about it. */
export function keepingAnswers(trial: TrialDocument, command: TrialCommand): TrialCommand {
  if (command.name === 'takeApplicationFile') {
    const known = trial.applicationFiles?.find(({ path }) => path === command.file.path);
    return known === undefined ? command : { ...command, file: known };
  }
  if (command.name !== 'takeHarvestFile') return command;
  const before = trial.harvestFiles.find(({ path }) => path === command.file.path);
  return before === undefined || before.kind !== command.file.kind ? command : { ...command, file: before };
}

async function takeFile(file: SourceFile): Promise<Outcome<TrialCommand>> {
  const kind = await sniffSource(file);
  if (!kind.ok) return kind;
  if (kind.value === 'trial') return trialCommand(file);
  if (kind.value === 'layout') return layoutCommand(file);
  if (kind.value === 'application') return success(takingLog(file.name), kind.problems);
  const harvest: HarvestFile = { path: file.name, kind: kind.value, columns: {}, yieldColumns: [] };
  return success({ name: 'takeHarvestFile', file: harvest }, kind.problems);
}

function takingLog(path: string): TrialCommand {
  return { name: 'takeApplicationFile', file: newApplicationFile(path) };
}

function trialCommand(file: InputFile): Outcome<TrialCommand> {
  const text = decodeText(wholeOf(file.bytes), file.name);
  if (!text.ok) return text;
  const opened = openTrial(text.value, file.name);
  return opened.ok ? success({ name: 'openTrial', trial: opened.value }, opened.problems) : opened;
}

async function layoutCommand(file: SourceFile): Promise<Outcome<TrialCommand>> {
  const layoutFile: LayoutFile = {
    path: file.name,
    properties: { strip: null, treatment: null, block: null },
  };
  const read = await readLayoutSource(file, layoutFile.properties);
  if (!read.ok) return read;
  return success({ name: 'takeLayout', layout: { ...read.value.layout, file: layoutFile } }, read.problems);
}
