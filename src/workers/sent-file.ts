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

export function receivedFile({ name, bytes: blob }: SentFile): InputFile {
  const read = stretchesOf(name, blob);
  const bytes = blob.size > HELD_WHOLE_BYTES ? { size: blob.size, read } : read(0, blob.size);
  return { name, bytes };
}

/** A file that is to be read from end to end; `letGo` gives back what was read ahead, and it can still be read. */
export interface HeldFile extends InputFile {
  readonly letGo: () => void;
}

/**
 * What is read ahead of all files together. A stretch asked of the browser costs a wait each, twice over since the file is
 * digested too, and the browser's own SHA-256 is several times as fast as ours but takes only whole files. Beyond this,
 * memory matters more: stretches, and a digest that is fed with them.
 */
const READ_AHEAD_BYTES = 64 * 1024 * 1024;

export async function heldFiles(files: readonly SentFile[]): Promise<readonly HeldFile[]> {
  let left = READ_AHEAD_BYTES;
  const isAhead = files.map(({ bytes: { size } }) => {
    const fits = size > HELD_WHOLE_BYTES && size <= left;
    if (fits) left -= size;
    return fits;
  });
  return Promise.all(
    files.map((file, index) =>
      isAhead[index] ? readAhead(file) : { ...receivedFile(file), letGo: () => undefined },
    ),
  );
}

async function readAhead({ name, bytes: blob }: SentFile): Promise<HeldFile> {
  let whole: Uint8Array<ArrayBuffer> | null;
  try {
    whole = new Uint8Array(await blob.arrayBuffer());
  } catch {
    throw changedSince(name);
  }
  const later = stretchesOf(name, blob);
  const read = (from: number, to: number) => whole?.subarray(from, to) ?? later(from, to);
  const letGo = () => {
    whole = null;
  };
  return { name, bytes: { size: blob.size, read }, ...digestOf(whole), letGo };
}

/** The browser digests beside the worker's own work; not where it deems the page's origin unsafe. */
function digestOf(bytes: Uint8Array<ArrayBuffer>): Pick<InputFile, 'sha256'> {
  if (globalThis.crypto?.subtle === undefined) return {};
  const sha256 = crypto.subtle.digest('SHA-256', bytes).then(hexadecimal);
  // Whoever wants it sees the failure; unasked it would also count as unhandled.
  sha256.catch(() => undefined);
  return { sha256 };
}

function hexadecimal(digest: ArrayBuffer): string {
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
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
