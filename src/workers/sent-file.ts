import { hashedFile } from '../pipeline/file-hashes.ts';
import type { InputFile } from '../pipeline/input-file.ts';

/** A file as the page hands it to the worker: by reference, so that nothing is copied on the way. */
export interface SentFile {
  readonly name: string;
  readonly bytes: Blob;
}

/** Of the worker's own world, which the page's types do not know. */
declare class FileReaderSync {
  readAsArrayBuffer(blob: Blob): ArrayBuffer;
}

/** Longer files are read a stretch at a time. */
const HELD_WHOLE_BYTES = 4 * 1024 * 1024;
/** As long as that, a file may be read whole for a while; beyond, memory matters more than time. */
const READ_AHEAD_BYTES = 64 * 1024 * 1024;

/** So long that another worker digests it meanwhile. */
export function isLong({ bytes }: SentFile): boolean {
  return bytes.size > HELD_WHOLE_BYTES;
}

export function receivedFile(file: SentFile): InputFile {
  const { name, bytes: blob } = file;
  const read = stretchesOf(name, blob);
  const bytes = isLong(file) ? { size: blob.size, read } : read(0, blob.size);
  return { name, bytes };
}

/** A file that is to be read from end to end; `letGo` gives back what was read ahead, and it can still be read. */
export interface HeldFile extends InputFile {
  readonly letGo: () => void;
}

/** Of the file at this place; null where it was not digested. */
export type DigestAsked = (index: number) => Promise<string | null>;

/** Long files are read ahead as far as all of them together allow, since each stretch asked of the browser costs a wait. */
export async function heldFiles(
  files: readonly SentFile[],
  digestAsked: DigestAsked,
): Promise<readonly HeldFile[]> {
  let left = READ_AHEAD_BYTES;
  const isAhead = files.map((file) => {
    const fits = isLong(file) && file.bytes.size <= left;
    if (fits) left -= file.bytes.size;
    return fits;
  });
  return Promise.all(
    files.map(async (file, index) => {
      const held = isAhead[index] ? await readAhead(file) : { ...receivedFile(file), letGo: () => undefined };
      return isLong(file) ? { ...held, sha256: () => digestAsked(index) } : held;
    }),
  );
}

async function readAhead({ name, bytes: blob }: SentFile): Promise<HeldFile> {
  let whole: Uint8Array | null = await wholeOf(name, blob);
  const later = stretchesOf(name, blob);
  const read = (from: number, to: number) => whole?.subarray(from, to) ?? later(from, to);
  const letGo = () => {
    whole = null;
  };
  return { name, bytes: { size: blob.size, read }, letGo };
}

/**
 * The SHA-256 of each long file in lower-case hexadecimal, one after the other; null for the others. The browser's own is
 * several times as fast as ours but takes only whole files, and only where it deems the page's origin safe.
 */
export async function digestsOf(files: readonly SentFile[]): Promise<readonly (string | null)[]> {
  const digests: (string | null)[] = [];
  for (const file of files) digests.push(isLong(file) ? await digestOf(file) : null);
  return digests;
}

async function digestOf(file: SentFile): Promise<string> {
  const subtle = globalThis.crypto?.subtle;
  if (subtle === undefined || file.bytes.size > READ_AHEAD_BYTES)
    return hashedFile(receivedFile(file), 'points').sha256;
  const digest = await subtle.digest('SHA-256', await wholeOf(file.name, file.bytes));
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function wholeOf(name: string, blob: Blob): Promise<Uint8Array<ArrayBuffer>> {
  try {
    return new Uint8Array(await blob.arrayBuffer());
  } catch {
    throw changedSince(name);
  }
}

function stretchesOf(name: string, blob: Blob): (from: number, to: number) => Uint8Array {
  return (from, to) => {
    try {
      return new Uint8Array(new FileReaderSync().readAsArrayBuffer(blob.slice(from, to)));
    } catch {
      throw changedSince(name);
    }
  };
}

/** The browser refuses a file that is no longer what it was when it was picked. */
function changedSince(name: string): Error {
  return new Error(`${name} was changed or moved since it was opened; open it again`);
}
