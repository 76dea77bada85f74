import type { KeptWork } from './kept-work.ts';

/** A file as the user handed it over: the name by which they know it, and its bytes. */
export interface InputFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface Progress {
  readonly stage: 'reading' | 'placing' | 'analysing';
  /** 0 to 1 within the stage. */
  readonly share: number;
}

export interface PipelineControl {
  /** Results of earlier runs over the very same files, to take over what an edit has not touched. */
  readonly kept?: KeptWork;
  /** Whoever has a faster one than the pure one hands it in: SHA-256 of the bytes, in lower-case hexadecimal. */
  readonly sha256?: (bytes: Uint8Array) => string;
  readonly onProgress?: (progress: Progress) => void;
  readonly isCancelled?: () => boolean;
  /** Whether the cleaning decides is found out for small files in any case, for large ones when asked. */
  readonly cleanings?: 'always';
}
