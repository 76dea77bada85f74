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
  const reader = new FileReaderSync();
  const read = (from: number, to: number) => {
    try {
      return new Uint8Array(reader.readAsArrayBuffer(blob.slice(from, to)));
    } catch {
      // The browser refuses a file that is no longer what it was when it was picked.
      throw new Error(`${name} was changed or moved since it was opened; open it again`);
    }
  };
  const bytes = blob.size > HELD_WHOLE_BYTES ? { size: blob.size, read } : read(0, blob.size);
  return { name, bytes };
}
