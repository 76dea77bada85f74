import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { openTrialValue } from '../trial/open-trial.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/**
 * Trials kept in this browser, each under a key of its own, so that two tabs with two trials never overwrite one
 * another. The files that a trial was opened with lie beside it unchanged: the document stays the only thing that
 * is edited, but a trial that comes back without its yield file could not be answered again.
 */
export interface KeptTrial {
  readonly key: string;
  readonly name: string;
  /** ISO 8601, from the caller's clock. */
  readonly savedAt: string;
  readonly trial: unknown;
}

export interface KeptFile {
  readonly key: string;
  readonly name: string;
  /** Earlier versions kept arrays. */
  readonly bytes: Blob | Uint8Array<ArrayBuffer>;
}

export interface RecoveredTrial {
  readonly trial: TrialDocument;
  readonly files: readonly { readonly name: string; readonly bytes: Blob }[];
}

interface Shelves extends DBSchema {
  trials: { key: string; value: KeptTrial };
  files: { key: [string, string]; value: KeptFile; indexes: { byTrial: string } };
}

export class KeptTrials {
  readonly #database: Promise<IDBPDatabase<Shelves>>;

  constructor(name = 'stripverdict') {
    this.#database = openShelves(name);
    // Whoever uses the database awaits it and sees the failure; without this it would also count as unhandled.
    this.#database.catch(() => undefined);
  }

  async keepTrial(key: string, trial: TrialDocument, savedAt: string): Promise<void> {
    const database = await this.#database;
    await database.put('trials', { key, name: trial.name, savedAt, trial });
  }

  /** Makes the kept files of a trial exactly these. */
  async keepFiles(key: string, files: readonly { name: string; bytes: Blob }[]): Promise<void> {
    const database = await this.#database;
    const transaction = database.transaction('files', 'readwrite');
    const before = await transaction.store.index('byTrial').getAllKeys(key);
    const names = new Set(files.map(({ name }) => name));
    await Promise.all([
      ...before.filter(([, name]) => !names.has(name)).map((old) => transaction.store.delete(old)),
      ...files.map(({ name, bytes }) => transaction.store.put({ key, name, bytes })),
      transaction.done,
    ]);
  }

  /** Newest first. */
  async list(): Promise<readonly KeptTrial[]> {
    const database = await this.#database;
    const kept = await database.getAll('trials');
    return kept.sort((a, b) => b.savedAt.localeCompare(a.savedAt));
  }

  /** null where nothing is kept under the key; a problem where what is kept no longer reads as a trial. */
  async recover(key: string): Promise<Outcome<RecoveredTrial> | null> {
    const database = await this.#database;
    const kept = await database.get('trials', key);
    if (kept === undefined) return null;
    const opened = openTrialValue(kept.trial);
    if (!opened.ok) return opened;
    const files = await database.getAllFromIndex('files', 'byTrial', key);
    return {
      ...opened,
      value: { trial: opened.value, files: files.map(keptAsBlob) },
    };
  }

  async forget(key: string): Promise<void> {
    const database = await this.#database;
    const transaction = database.transaction(['trials', 'files'], 'readwrite');
    const files = await transaction.objectStore('files').index('byTrial').getAllKeys(key);
    await Promise.all([
      transaction.objectStore('trials').delete(key),
      ...files.map((file) => transaction.objectStore('files').delete(file)),
      transaction.done,
    ]);
  }
}

/** A browser that forbids storage throws at once; as an async function this still comes out as a failed promise. */
async function openShelves(name: string): Promise<IDBPDatabase<Shelves>> {
  return openDB<Shelves>(name, 1, {
    upgrade(database) {
      database.createObjectStore('trials', { keyPath: 'key' });
      const files = database.createObjectStore('files', { keyPath: ['key', 'name'] });
      files.createIndex('byTrial', 'key');
    },
  });
}

function keptAsBlob({ name, bytes }: KeptFile): { readonly name: string; readonly bytes: Blob } {
  return { name, bytes: bytes instanceof Blob ? bytes : new Blob([bytes]) };
}
