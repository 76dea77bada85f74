import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { ReportModel } from '../findings/report-model.ts';
import { sizeOf, stretchOf } from '../intake/file-bytes.ts';
import type { InputFile, RunningHash } from './input-file.ts';

export type FileRole = ReportModel['trial']['files'][number]['role'];

const STRETCH_BYTES = 1 << 22;

/** What a report was made from: the file's name, what it was read as, and the SHA-256 of its bytes. */
export function hashedFile(
  { name, bytes }: InputFile,
  role: FileRole,
  newHash: () => RunningHash = pureHash,
): ReportModel['trial']['files'][number] {
  const hash = newHash();
  const size = sizeOf(bytes);
  for (let from = 0; from < size; from += STRETCH_BYTES) {
    hash.update(stretchOf(bytes, from, from + STRETCH_BYTES));
  }
  return { name, role, sha256: hash.digest() };
}

function pureHash(): RunningHash {
  const hash = sha256.create();
  return { update: (bytes) => hash.update(bytes), digest: () => bytesToHex(hash.digest()) };
}
