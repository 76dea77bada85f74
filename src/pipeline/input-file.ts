import type { FileBytes } from '../intake/file-bytes.ts';

export { type StretchedFile, wholeOf } from '../intake/file-bytes.ts';

import type { KeptWork } from './kept-work.ts';

/** A file as the user handed it over: the name by which they know it, and its bytes. */
export interface InputFile {
  readonly name: string;
  readonly bytes: FileBytes;
  /** In lower-case hexadecimal, from whoever handed the file over and digests it beside the pipeline's work; null: unknown. */
  readonly sha256?: () => Promise<string | null>;
}

/** A hash that is fed stretch by stretch; `digest` gives it in lower-case hexadecimal. */
export interface RunningHash {
  readonly update: (bytes: Uint8Array) => void;
  readonly digest: () => string;
}

export interface Progress {
  readonly stage: 'reading' | 'placing' | 'analysing';
  /** 0 to 1 within the stage. */
  readonly share: number;
}

export interface PipelineControl {
  /** Results of earlier runs over the very same files, to take over what an edit has not touched. */
  readonly kept?: KeptWork;
  /** Whoever has a faster SHA-256 than the pure one hands it in. */
  readonly newSha256?: () => RunningHash;
  readonly onProgress?: (progress: Progress) => void;
  readonly isCancelled?: () => boolean;
  /** Whether the cleaning decides is found out for small files in any case, for large ones when asked. */
  readonly cleanings?: 'always';
}
