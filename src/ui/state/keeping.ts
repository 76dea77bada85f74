import { effect, signal } from '@preact/signals-core';
import { type KeptTrial, KeptTrials } from '../../store/kept-trials.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { beginSession, files, notice, type OpenedFile, session } from './session.ts';

/** Keeping the open trial in this browser, and bringing it back. A failure is said; work goes on without it. */
export type KeepingState = 'nothing' | 'pending' | 'kept' | 'failed';

export const keeping = signal<KeepingState>('nothing');
export const keptTrials = signal<readonly KeptTrial[]>([]);
/** Another tab has changed the very trial that is open here. */
export const changedElsewhere = signal(false);

const PAUSE_MS = 300;
/** Remembers, for this tab alone, which trial a reload should bring back. */
const TAB_KEY = 'stripverdict-open-trial';
const shelf = new KeptTrials();
const otherTabs = new BroadcastChannel('stripverdict');
let waiting: ReturnType<typeof setTimeout> | undefined;
let unsaved: Unsaved | null = null;
/** What is kept, or on its way there. */
let lastTrial: TrialDocument | null = null;
let lastFiles: readonly OpenedFile[] = [];
/** One after the other, so that what is older never comes last. */
let writing: Promise<void> = Promise.resolve();
let underWay = 0;

interface Unsaved {
  readonly key: string;
  readonly trial: TrialDocument;
  readonly files: readonly OpenedFile[];
}

export function keepTrialSafe(): () => void {
  otherTabs.onmessage = ({ data }) => {
    if (data === session.peek()?.key) changedElsewhere.value = true;
    void listKept();
  };
  addEventListener('pagehide', keepNow);
  addEventListener('visibilitychange', keepNow);
  return effect(() => {
    const current = session.value;
    const opened = files.value;
    if (unsaved !== null && unsaved.key !== current?.key) keepNow();
    clearTimeout(waiting);
    if (current === null) {
      keeping.value = 'nothing';
      return;
    }
    const present = current.history.present;
    if (present === lastTrial && opened === lastFiles) {
      // Perhaps by undo, before what was undone was kept.
      unsaved = null;
      keeping.value = underWay > 0 ? 'pending' : 'kept';
      return;
    }
    unsaved = { key: current.key, trial: present, files: opened };
    keeping.value = 'pending';
    waiting = setTimeout(keepNow, PAUSE_MS);
  });
}

function keepNow(): void {
  clearTimeout(waiting);
  const wanted = unsaved;
  unsaved = null;
  if (wanted === null) return;
  const areFilesKept = wanted.files === lastFiles;
  lastTrial = wanted.trial;
  lastFiles = wanted.files;
  underWay += 1;
  writing = writing.then(() => keep(wanted, areFilesKept));
}

async function keep({ key, trial, files: opened }: Unsaved, areFilesKept: boolean): Promise<void> {
  try {
    if (!areFilesKept) await shelf.keepFiles(key, opened);
    await shelf.keepTrial(key, trial, new Date().toISOString());
    underWay -= 1;
    if (session.peek()?.key === key) {
      rememberInTab(key);
      keeping.value = unsaved === null && underWay === 0 ? 'kept' : 'pending';
    }
    otherTabs.postMessage(key);
  } catch {
    underWay -= 1;
    lastTrial = null;
    lastFiles = [];
    keeping.value = 'failed';
  }
}

/** Brings back the trial that this tab had open before it was loaded again; false where there was none. */
export async function resumeThisTab(): Promise<boolean> {
  const key = readTabKey();
  return key !== null && (await openKept(key));
}

export async function openKept(key: string): Promise<boolean> {
  try {
    await writing;
    const recovered = await shelf.recover(key);
    if (recovered === null) return false;
    if (!recovered.ok) {
      notice.value = { text: 'What this browser had kept no longer reads.', problems: recovered.problems };
      return false;
    }
    lastTrial = recovered.value.trial;
    lastFiles = recovered.value.files;
    changedElsewhere.value = false;
    beginSession(recovered.value.trial, recovered.value.files, key);
    keeping.value = 'kept';
    rememberInTab(key);
    return true;
  } catch {
    keeping.value = 'failed';
    return false;
  }
}

export async function listKept(): Promise<void> {
  try {
    await writing;
    keptTrials.value = await shelf.list();
  } catch {
    keptTrials.value = [];
  }
}

export async function forgetKept(key: string): Promise<void> {
  try {
    await writing;
    await shelf.forget(key);
  } catch {
    notice.value = { text: 'This browser would not remove the kept trial.', problems: [] };
  }
  await listKept();
}

/** The tab starts afresh; the trial stays kept. */
export function leaveTab(): void {
  changedElsewhere.value = false;
  rememberInTab(null);
}

/** A browser that forbids storage still works; it only opens the first page after a reload. */
function rememberInTab(key: string | null): void {
  try {
    if (key === null) sessionStorage.removeItem(TAB_KEY);
    else sessionStorage.setItem(TAB_KEY, key);
  } catch {
    keeping.value = 'failed';
  }
}

function readTabKey(): string | null {
  try {
    return sessionStorage.getItem(TAB_KEY);
  } catch {
    return null;
  }
}
