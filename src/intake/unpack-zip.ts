import { failure, type Outcome, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';

export interface UnpackedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A few kilobytes can be made to inflate to gigabytes, so what comes out is counted while it comes. */
const MOST_INFLATED_BYTES = 250e6;
const MOST_ENTRIES = 5000;
const BYTES_A_STEP = 16 * 1024;
/** Pictures and documents beside the data are not unpacked. */
const NOT_DATA =
  /(?:^|\/)(?:__MACOSX\/|\.(?!\.?\/))|\.(?:png|jpe?g|gif|tiff?|pdf|docx?|pptx?|mp4|mov|exe|dll)$/i;

class TooLarge extends Error {}

/** The files within a zip archive. Problems: `zipTooLarge`, `zipDamaged`, `zipEmpty`. */
export async function unpackZip(bytes: Uint8Array, file: string): Promise<Outcome<readonly UnpackedFile[]>> {
  const { Unzip, UnzipInflate } = await import('fflate');
  const entries = new Map<string, Uint8Array[]>();
  let inflated = 0;
  const unzip = new Unzip((entry) => {
    if (entries.size >= MOST_ENTRIES) throw new TooLarge();
    if (entry.name.endsWith('/') || NOT_DATA.test(entry.name)) return;
    const pieces: Uint8Array[] = [];
    entries.set(entry.name, pieces);
    entry.ondata = (error, piece) => {
      if (error !== null) throw error;
      inflated += piece.length;
      if (inflated > MOST_INFLATED_BYTES) throw new TooLarge();
      if (piece.length > 0) pieces.push(piece);
    };
    entry.start();
  });
  unzip.register(UnzipInflate);
  try {
    for (let from = 0; from < bytes.length; from += BYTES_A_STEP) {
      unzip.push(bytes.subarray(from, from + BYTES_A_STEP), from + BYTES_A_STEP >= bytes.length);
    }
  } catch (error) {
    return failure(unpackingFault(error, file));
  }
  if (entries.size === 0) return failure(intakeProblem('zipEmpty', { file }, {}));
  return success([...entries].map(([name, pieces]) => ({ name, bytes: joined(pieces) })));
}

/**
 * The same files in an archive without compression, for readers that unpack for themselves: they then meet what was
 * counted here, and need no threads for it.
 */
export async function packedPlainly(entries: readonly UnpackedFile[]): Promise<Uint8Array> {
  const { zipSync } = await import('fflate');
  return zipSync(Object.fromEntries(entries.map(({ name, bytes }) => [name, bytes])), { level: 0 });
}

function unpackingFault(error: unknown, file: string) {
  if (error instanceof TooLarge) {
    const details = { limit: MOST_INFLATED_BYTES / 1e6, entries: MOST_ENTRIES };
    return intakeProblem('zipTooLarge', { file }, details);
  }
  return intakeProblem('zipDamaged', { file }, { reason: reasonOf(error) });
}

const LONGEST_REASON = 200;

/** What a reader that was taken from elsewhere said when it gave up. */
export function reasonOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.replace(/\s+/g, ' ').trim().slice(0, LONGEST_REASON) || 'no reason given';
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
