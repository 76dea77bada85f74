import * as v from 'valibot';
import { renumberedLists } from './pass-cuts.ts';
import { passListText, readPassList } from './pass-list.ts';
import { filledText } from './polygon-schema.ts';

/** The passes of each strip, as text, when all strips had theirs for the first time after harvest was opened. */
export const stampedPassesSchema = v.array(v.object({ id: filledText, passes: v.string() }));

export type StampedPasses = v.InferOutput<typeof stampedPassesSchema>;

interface WithPasses {
  readonly strips: readonly { readonly id: string; readonly passes?: readonly number[] | null | undefined }[];
}

/** null: not every strip has a pass yet. */
export function stampedPasses({ strips }: WithPasses): StampedPasses | null {
  const stamped = strips.map(({ id, passes }) => ({ id, passes: passListText(passes ?? []) }));
  return stamped.length === 0 || stamped.some(({ passes }) => passes === '') ? null : stamped;
}

/** The same stamp by the numbers that passes have after a cut, so that a new number alone is no change. */
export function renumberedStamp(
  stamped: StampedPasses,
  becomes: readonly (readonly number[])[],
): StampedPasses {
  const lists = stamped.map(({ passes }) => {
    const read = readPassList(passes, becomes.length);
    return read.ok ? read.passes : null;
  });
  const now = renumberedLists(
    lists.map((list) => list ?? []),
    becomes,
  );
  return stamped.map((one, k) => (lists[k] === null ? one : { ...one, passes: passListText(now[k]!) }));
}

/** Strips whose passes moved, as JSON text; null where none did. */
export function movedPasses(
  before: StampedPasses,
  { strips }: WithPasses,
): { readonly before: string; readonly now: string } | null {
  const pairs = strips.flatMap(({ id, passes }) => {
    const was = before.find((one) => one.id === id)?.passes;
    const is = passListText(passes ?? []);
    return was === undefined || was === is ? [] : [{ id, was, is }];
  });
  if (pairs.length === 0) return null;
  const shown = (text: (pair: (typeof pairs)[number]) => string) =>
    JSON.stringify(pairs.map((pair) => `${pair.id}: ${text(pair) || 'none'}`));
  return { before: shown(({ was }) => was), now: shown(({ is }) => is) };
}
