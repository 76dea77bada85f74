import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { ReportModel } from '../findings/report-model.ts';
import type { InputFile } from './input-file.ts';

export type FileRole = ReportModel['trial']['files'][number]['role'];

/** What a report was made from: the file's name, what it was read as, and the SHA-256 of its bytes. */
export function hashedFile(
  file: InputFile,
  role: FileRole,
  hashOf: (bytes: Uint8Array) => string = pureHash,
): ReportModel['trial']['files'][number] {
  return { name: file.name, role, sha256: hashOf(file.bytes) };
}

function pureHash(bytes: Uint8Array): string {
  return bytesToHex(sha256(bytes));
}
