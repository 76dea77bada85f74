/** A file read a stretch at a time, so that a long one need not be held whole. Stretches are valid until the next is read. */
export interface StretchedFile {
  readonly size: number;
  readonly read: (from: number, to: number) => Uint8Array;
}

/** What a file holds: its bytes, or the way to them. */
export type FileBytes = Uint8Array | StretchedFile;

export function sizeOf(bytes: FileBytes): number {
  return bytes instanceof Uint8Array ? bytes.length : bytes.size;
}

/** The bytes from one place up to another, or to the file's end. */
export function stretchOf(bytes: FileBytes, from: number, to: number): Uint8Array {
  if (bytes instanceof Uint8Array) return bytes.subarray(from, to);
  return bytes.read(from, Math.min(to, bytes.size));
}

/** All of it, for the formats that cannot be read in pieces. */
export function wholeOf(bytes: FileBytes): Uint8Array {
  return bytes instanceof Uint8Array ? bytes : bytes.read(0, bytes.size).slice();
}
