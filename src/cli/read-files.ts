import { existsSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { isAbsolute, resolve } from 'node:path';
import type { InputFile, StretchedFile } from '../pipeline/input-file.ts';
import { failure, type Outcome, problem, success } from '../trial/problem.ts';

/** Larger files are refused: no trial needs them, and one buffer of Node ends near 2 GiB. */
const MAX_BYTES = 1_900_000_000;

/** Where the user stands: npm runs scripts in the project's folder and keeps the user's own in INIT_CWD. */
export function standingIn(): string {
  return process.env.INIT_CWD ?? process.cwd();
}

export function absolutePath(path: string, base: string = standingIn()): string {
  return isAbsolute(path) ? path : resolve(base, path);
}

/** Reads a file under the name by which the user knows it. */
export function readInput(name: string, path: string): Outcome<InputFile> {
  if (!existsSync(path)) return failure(problem('error', 'fileMissing', { file: name }, { path: name }));
  const stats = statSync(path);
  if (!stats.isFile()) return failure(problem('error', 'notAFile', { file: name }, { path: name }));
  if (stats.size > MAX_BYTES) {
    return failure(problem('error', 'fileTooLarge', { file: name }, { bytes: stats.size, limit: MAX_BYTES }));
  }
  return readBytes(name, path, stats.size);
}

/** Longer files are read a stretch at a time. */
const HELD_WHOLE_BYTES = 4 * 1024 * 1024;

function readBytes(name: string, path: string, size: number): Outcome<InputFile> {
  try {
    const bytes = size > HELD_WHOLE_BYTES ? stretchedFile(path, size) : readFileSync(path);
    return success({ name, bytes });
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return failure(problem('error', 'fileUnreadable', { file: name }, { path: name, reason }));
  }
}

/** Each stretch is read into the buffer of the one before, where that is long enough. */
function stretchedFile(path: string, size: number): StretchedFile {
  const file = openSync(path, 'r');
  let buffer = new Uint8Array(0);
  const read = (from: number, to: number) => {
    if (buffer.length < to - from) buffer = new Uint8Array(to - from);
    let filled = 0;
    while (filled < to - from) {
      const count = readSync(file, buffer, filled, to - from - filled, from + filled);
      if (count === 0) throw new Error(`${path} became shorter while it was read`);
      filled += count;
    }
    return buffer.subarray(0, filled);
  };
  return { size, read };
}
