import { signal } from '@preact/signals-core';
import type { FilesTaken } from '../../pipeline/trial-from-files.ts';
import { edit, startHistory } from '../../store/trial-history.ts';
import { applyCommand, type TrialCommand } from '../../trial/commands.ts';
import { filesNamed } from '../../trial/files-named.ts';
import type { Problem } from '../../trial/problem.ts';
import { newApplicationFile, newTrial } from '../../trial/starting-settings.ts';
import type { LayoutFile, TrialDocument } from '../../trial/trial-document.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { leaveTab, listKept } from './keeping.ts';
import { isSameFile } from './readiness.ts';
import { goTo } from './router.ts';
import {
  addFiles,
  announcement,
  beginSession,
  dispatch,
  endSession,
  files,
  notice,
  type OpenedFile,
  session,
  trial,
} from './session.ts';

/** Opening what the user picked or dropped: a trial, a layout, harvest files, several at once. */
export const isOpening = signal(false);

const background = new BackgroundAnalysis();

export async function openPicked(picked: readonly File[]): Promise<void> {
  await openFiles(picked.map((file) => ({ name: file.name, bytes: file })));
}

export async function openFiles(opened: readonly OpenedFile[]): Promise<void> {
  if (opened.length === 0) return;
  isOpening.value = true;
  notice.value = null;
  try {
    await takeIn(opened);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    notice.value = { text: `The files could not be opened (${reason}). Nothing was changed.`, problems: [] };
  } finally {
    isOpening.value = false;
  }
}

async function takeIn(opened: readonly OpenedFile[]): Promise<void> {
  const answered = await background.take(trial.peek() ?? newTrial(''), opened);
  if (answered === 'cancelled') return;
  const taken = askedLayoutKept(answered, trial.peek());
  const refused = new Set(
    taken.problems.flatMap(({ severity, file }) => (severity === 'error' ? [file] : [])),
  );
  const usable = opened.filter(({ name }) => !refused.has(name));
  const opening = taken.commands.find((command) => command.name === 'openTrial');
  if (opening !== undefined) {
    await openTrialWith(opening.trial, taken.commands, usable, taken.problems);
  } else if (session.peek() === null) {
    await openTrialWith(newTrial(''), taken.commands, usable, taken.problems);
  } else {
    addToTrial(session.peek()?.history.present ?? newTrial(''), taken.commands, usable, taken.problems);
  }
}

/** What stops a layout only until the user says which of its properties is meant; the Layout page asks. */
const ASKED_OF_LAYOUT = ['askWhichProperty', 'noTreatmentProperty'];

/** A layout that only asks a question is taken without strips, where there are none to lose. */
function askedLayoutKept(taken: FilesTaken, current: TrialDocument | null): FilesTaken {
  const isAsked = ({ severity, code }: Problem) => severity === 'error' && ASKED_OF_LAYOUT.includes(code);
  const path = taken.problems.find(isAsked)?.file ?? null;
  const isOnlyAsked = taken.problems.every(
    (one) => one.file !== path || one.severity !== 'error' || isAsked(one),
  );
  if (path === null || !isOnlyAsked || (current !== null && current.strips.length > 0)) return taken;
  const file = { path, properties: { strip: null, treatment: null, block: null } };
  const layout = { file, treatments: [], blocks: [], strips: [] };
  goTo('layout');
  return {
    commands: [...taken.commands, { name: 'takeLayout', layout }],
    problems: taken.problems.filter((one) => one.file !== path),
  };
}

/**
 * Begins a trial with the files dropped beside it. What stands in the document counts: a layout or harvest file
 * that it already names is brought to it, not taken anew. The trial open before stays kept in this browser.
 */
async function openTrialWith(
  opened: TrialDocument,
  commands: readonly TrialCommand[],
  usable: readonly OpenedFile[],
  problems: readonly Problem[],
): Promise<void> {
  const fresh = commands.filter((command) => command.name !== 'openTrial' && !isKnown(opened, command));
  if (usable.length === 0) {
    sayNothingOpened(problems);
    return;
  }
  const edited = edit(startHistory(opened), fresh);
  if (!edited.ok) {
    sayNothingOpened([...problems, ...edited.problems]);
    return;
  }
  const named = namedAsIn(edited.value.present, usable);
  const laidOut = await background.layOut(edited.value.present, named);
  if (laidOut === 'cancelled') return;
  beginTrial(laidOut.ok ? laidOut.value : edited.value.present, named);
  sayRemarks(problems);
  announcement.value = `Opened ${opened.name || 'a trial'}.`;
}

function addToTrial(
  current: TrialDocument,
  commands: readonly TrialCommand[],
  usable: readonly OpenedFile[],
  problems: readonly Problem[],
): void {
  const named = namedAsIn(current, usable);
  const isOfUse = commands.length > 0 || named.some(({ name }) => isNamed(current, name));
  if (!isOfUse) {
    sayNothingOpened(problems);
    return;
  }
  const opensHarvest = commands.some(({ name }) => name === 'takeHarvestFile');
  const edits = commands.map((command) => underKnownName(current, command));
  if (!dispatch(...edits, ...(opensHarvest ? [stampNow()] : []))) return;
  addFiles(named);
  sayRemarks(problems);
  announcement.value = 'The files were opened.';
}

function sayNothingOpened(problems: readonly Problem[]): void {
  notice.value = { text: 'Nothing was opened. Everything is as it was.', problems };
  announcement.value = 'Nothing was opened.';
}

function sayRemarks(problems: readonly Problem[]): void {
  const isRefusal = problems.some(({ severity }) => severity === 'error');
  const text = isRefusal ? 'Not all of it could be opened. The rest was taken in.' : 'Opened, with remarks.';
  if (problems.length > 0) notice.value = { text, problems };
}

/** Is this a file that the document names itself, with what was decided about it? */
function isKnown(opened: TrialDocument, command: TrialCommand): boolean {
  if (command.name === 'takeLayout') {
    const path = command.layout.file?.path;
    return path !== undefined && opened.layoutFile !== null && isSameFile(path, opened.layoutFile.path);
  }
  if (command.name === 'takeApplicationFile')
    return opened.applicationFiles?.some(({ path }) => isSameFile(path, command.file.path)) ?? false;
  return (
    command.name === 'takeHarvestFile' &&
    opened.harvestFiles.some(({ path }) => isSameFile(path, command.file.path))
  );
}

function isNamed(current: TrialDocument, name: string): boolean {
  return filesNamed(current).includes(name);
}

/** A document may name its files by a path; a picked file comes with the last part alone and takes that path. */
function namedAsIn(current: TrialDocument, opened: readonly OpenedFile[]): readonly OpenedFile[] {
  return opened.map((file) => ({ ...file, name: knownName(current, file.name) }));
}

function knownName(current: TrialDocument, name: string): string {
  return filesNamed(current).find((path) => isSameFile(path, name)) ?? name;
}

function underKnownName(current: TrialDocument, command: TrialCommand): TrialCommand {
  if (command.name === 'takeApplicationFile') return takingLog(current, command.file.path);
  if (command.name !== 'takeHarvestFile') return command;
  const path = knownName(current, command.file.path);
  const before = current.harvestFiles.find((file) => file.path === path);
  return { ...command, file: before?.kind === command.file.kind ? before : { ...command.file, path } };
}

/** What was answered about a log before stays with it. */
function takingLog(current: TrialDocument, name: string): TrialCommand {
  const path = knownName(current, name);
  const before = current.applicationFiles?.find((file) => file.path === path);
  return { name: 'takeApplicationFile', file: before ?? newApplicationFile(path) };
}

/** Files handed over as logs of the application, whatever else they might pass for: areas look like a layout. */
export async function openLogs(picked: readonly File[]): Promise<void> {
  const current = trial.peek();
  if (current === null || picked.length === 0) return;
  const opened = picked.map((file) => ({ name: file.name, bytes: file }));
  const named = namedAsIn(current, opened);
  const logs = named.filter(({ name }) => !PART_OF_SHAPEFILE.test(name));
  if (!dispatch(...logs.map(({ name }) => takingLog(current, name)))) return;
  addFiles(named);
  announcement.value = 'The application log was opened.';
}

const PART_OF_SHAPEFILE = /\.(?:dbf|shx|prj|cpg|sbn|sbx)$/i;

function beginTrial(opened: TrialDocument, withFiles: readonly OpenedFile[]): void {
  const hasHarvest = opened.harvestFiles.some(({ path }) => withFiles.some(({ name }) => name === path));
  beginSession(hasHarvest ? stamped(opened) : opened, withFiles, crypto.randomUUID());
}

/** Settings are noted the moment harvest data first open: what moves after that is said in the report. */
function stamped(opened: TrialDocument): TrialDocument {
  const outcome = applyCommand(opened, stampNow());
  return outcome.ok ? outcome.value : opened;
}

function stampNow(): TrialCommand {
  return { name: 'stampSettings', at: new Date().toISOString() };
}

/** Reads the layout file of the trial anew, with other properties taken for strip, treatment and block. */
export async function rereadLayout(properties: LayoutFile['properties']): Promise<void> {
  const current = trial.peek();
  if (current === null || current.layoutFile === null) return;
  const asked = { ...current, strips: [], layoutFile: { ...current.layoutFile, properties } };
  const outcome = await background.layOut(asked, files.peek());
  if (outcome === 'cancelled') return;
  if (!outcome.ok) {
    notice.value = {
      text: 'The layout was not read anew. Everything is as it was.',
      problems: outcome.problems,
    };
    return;
  }
  const { layoutFile: file, treatments, blocks, strips } = outcome.value;
  dispatch({ name: 'takeLayout', layout: { file, treatments, blocks, strips } });
}

/** Takes strips typed or pasted as a list in place of those that there are; what stopped it, or nothing. */
export async function takeStripList(text: string): Promise<readonly Problem[]> {
  const current = trial.peek();
  if (current === null) return [];
  const path = 'the list';
  const layoutFile = { path, properties: { strip: null, treatment: null, block: null } };
  const bytes = new Blob([text]);
  const outcome = await background.layOut({ ...current, strips: [], layoutFile }, [{ name: path, bytes }]);
  if (outcome === 'cancelled') return [];
  if (!outcome.ok) return outcome.problems;
  const { treatments, blocks, strips } = outcome.value;
  const numbering = current.passNumbering ?? null;
  const passesOfStrips = Object.fromEntries(strips.map(({ id, passes }) => [id, passes ?? []]));
  dispatch(
    { name: 'takeLayout', layout: { file: null, treatments, blocks, strips } },
    ...(numbering === null ? [] : [{ name: 'assignPasses', passesOfStrips, numbering } as const]),
  );
  announcement.value = 'The strips were taken.';
  return outcome.problems.filter(({ severity }) => severity !== 'note');
}

export function startEmptyTrial(): void {
  beginTrial(newTrial('Untitled trial'), []);
}

/** Back to the first page. The trial stays kept in this browser. */
export async function closeTrial(): Promise<void> {
  endSession();
  leaveTab();
  await listKept();
  announcement.value = 'Closed. The trial is kept in this browser.';
}
