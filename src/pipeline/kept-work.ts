import type { PipelineControl } from './input-file.ts';

/**
 * Results that hold as long as the files do: what was parsed, what was placed. Whoever keeps the files keeps one of
 * these beside them and throws it away with them. For each kind of work only the newest result is kept.
 */
export class KeptWork {
  readonly #newest = new Map<string, { readonly key: string; readonly result: Promise<unknown> }>();

  /** The newest result of this kind, whatever it hangs on; null: none yet. */
  newest(kind: string): Promise<unknown> | null {
    return this.#newest.get(kind)?.result ?? null;
  }

  /** The result under this key, or that of the work, which must depend on nothing but the files and the key. */
  async reuse<T>(kind: string, key: string, work: () => Promise<T>): Promise<T> {
    const before = this.#newest.get(kind);
    if (before !== undefined && before.key === key) return before.result as Promise<T>;
    const result = work();
    this.#newest.set(kind, { key, result });
    try {
      return await result;
    } catch (error) {
      // Work that failed is done anew when it is asked for again.
      this.#newest.delete(kind);
      throw error;
    }
  }
}

/** Does the work, or takes over what was kept of it. Without keeping, as on the command line, it is always done. */
export function reuse<T>(
  { kept }: PipelineControl,
  kind: string,
  key: string,
  work: () => Promise<T>,
): Promise<T> {
  return kept === undefined ? work() : kept.reuse(kind, key, work);
}
