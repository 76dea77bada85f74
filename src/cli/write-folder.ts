import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { failure, type Outcome, problem, success } from '../trial/problem.ts';

export interface FileToWrite {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** Lists what was written here and its hash, so that a later run knows its own files from the user's. */
const LIST_NAME = 'stripverdict-files.json';

/**
 * Writes the files into a folder, made if need be. Overwrites only what an earlier run wrote and nobody changed
 * since; where any other file stands in the way nothing at all is written (`wouldOverwrite`).
 */
export function writeFolder(folder: string, files: readonly FileToWrite[]): Outcome<readonly string[]> {
  try {
    mkdirSync(folder, { recursive: true });
    const listed = writtenBefore(folder);
    const inTheWay = files.find((file) => standsInTheWay(folder, file.name, listed));
    if (inTheWay !== undefined) {
      return failure(problem('error', 'wouldOverwrite', { file: inTheWay.name }, { folder }));
    }
    for (const file of files) writeFileSync(join(folder, file.name), file.content);
    const written = Object.fromEntries(files.map((file) => [file.name, hashOf(file.content)]));
    writeFileSync(join(folder, LIST_NAME), `${JSON.stringify({ ...listed, ...written }, null, 2)}\n`);
    return success(files.map((file) => file.name));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return failure(problem('error', 'cannotWrite', {}, { folder, reason }));
  }
}

function standsInTheWay(folder: string, name: string, listed: Record<string, string>): boolean {
  const path = join(folder, name);
  return existsSync(path) && listed[name] !== hashOf(readFileSync(path));
}

function writtenBefore(folder: string): Record<string, string> {
  const path = join(folder, LIST_NAME);
  if (!existsSync(path)) return {};
  const list: unknown = JSON.parse(readFileSync(path, 'utf8'));
  return typeof list === 'object' && list !== null ? { ...(list as Record<string, string>) } : {};
}

function hashOf(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
