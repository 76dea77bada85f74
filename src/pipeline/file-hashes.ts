import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { ReportModel } from '../findings/report-model.ts';
import { sizeOf, stretchOf } from '../intake/file-bytes.ts';
import { type Problem, problem } from '../trial/problem.ts';
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

/** Harvest files of the same bytes under several names: their points would count more than once. */
export function filesTwice(files: ReportModel['trial']['files']): Problem[] {
  const points = files.filter(({ role }) => role === 'points');
  return [...new Set(points.map(({ sha256 }) => sha256))].flatMap((hash) => {
    const names = points.filter(({ sha256 }) => sha256 === hash).map(({ name }) => name);
    return names.length < 2 ? [] : [problem('warning', 'fileTwice', {}, { files: names })];
  });
}

function pureHash(): RunningHash {
  const hash = sha256.create();
  return { update: (bytes) => hash.update(bytes), digest: () => bytesToHex(hash.digest()) };
}
