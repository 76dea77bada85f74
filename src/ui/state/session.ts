import { batch, computed, signal } from '@preact/signals-core';
import { edit, redo, startHistory, type TrialHistory, undo } from '../../store/trial-history.ts';
import type { TrialCommand } from '../../trial/commands.ts';
import type { Problem } from '../../trial/problem.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';

/**
 * The state of the app: the one trial with its history, the files it was opened with, and what was last said to
 * the user. Every edit of the trial goes through `dispatch`.
 */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Blob;
}

export interface Session {
  /** Under which the trial is kept in this browser. */
  readonly key: string;
  readonly history: TrialHistory;
}

export interface Notice {
  readonly text: string;
  readonly problems: readonly Problem[];
}

export const session = signal<Session | null>(null);
export const files = signal<readonly OpenedFile[]>([]);
export const notice = signal<Notice | null>(null);
/** Read out by screen readers when it changes. */
export const announcement = signal('');

export const trial = computed(() => session.value?.history.present ?? null);
export const canUndo = computed(() => (session.value?.history.past.length ?? 0) > 0);
export const canRedo = computed(() => (session.value?.history.future.length ?? 0) > 0);

export function beginSession(opened: TrialDocument, withFiles: readonly OpenedFile[], key: string): void {
  batch(() => {
    session.value = { key, history: startHistory(opened) };
    files.value = withFiles;
    notice.value = null;
  });
}

export function endSession(): void {
  batch(() => {
    session.value = null;
    files.value = [];
    notice.value = null;
  });
}

/** Applies the commands as one step. False, with the reason shown, where the trial cannot take them. */
export function dispatch(...commands: readonly TrialCommand[]): boolean {
  const current = session.peek();
  if (current === null) throw new Error('dispatch: got an edit, expected an open trial before any edit');
  const outcome = edit(current.history, commands);
  if (!outcome.ok) {
    notice.value = { text: 'That change was not made. Everything is as it was.', problems: outcome.problems };
    return false;
  }
  session.value = { ...current, history: outcome.value };
  return true;
}

export function undoEdit(): void {
  const current = session.peek();
  const step = current?.history.past.at(-1);
  if (current === null || step === undefined) return;
  session.value = { ...current, history: undo(current.history) };
  announcement.value = `Taken back: ${EDIT_NAMES[step.edit]}.`;
}

export function redoEdit(): void {
  const current = session.peek();
  const step = current?.history.future[0];
  if (current === null || step === undefined) return;
  session.value = { ...current, history: redo(current.history) };
  announcement.value = `Done again: ${EDIT_NAMES[step.edit]}.`;
}

export function addFiles(more: readonly OpenedFile[]): void {
  const names = new Set(more.map(({ name }) => name));
  files.value = [...files.peek().filter(({ name }) => !names.has(name)), ...more];
}

/** What an edit is called beside the undo button. */
export const EDIT_NAMES: Readonly<Record<TrialCommand['name'], string>> = {
  openTrial: 'opening a trial',
  describeTrial: 'a change to the trial',
  addTreatment: 'adding a treatment',
  changeTreatment: 'a change to a treatment',
  removeTreatment: 'removing a treatment',
  chooseCheck: 'choosing the check',
  takeLayout: 'taking a layout',
  moveLayout: 'moving the layout',
  changeStrip: 'a change to a strip',
  removeStrip: 'removing a strip',
  assignPasses: 'assigning passes',
  cutPasses: 'cutting passes',
  addStrip: 'adding a strip',
  takeHarvestFile: 'taking a harvest file',
  changeHarvestFile: 'a change to how a file is read',
  removeHarvestFile: 'removing a harvest file',
  takeApplicationFile: 'taking an application log',
  changeApplicationFile: 'a change to how a log is read',
  removeApplicationFile: 'removing an application log',
  takeAppliedPolygons: 'a change to where the strips were put',
  changeHarvestSettings: 'a change to the cleaning settings',
  addExclusion: 'leaving out an area',
  changeExclusion: 'a change to an area left out',
  removeExclusion: 'taking an area back in',
  changeInference: 'a change to how the answer is decided',
  changeEconomics: 'a change to the price',
  stampSettings: 'noting the settings',
  setField: 'a change to one field',
};
