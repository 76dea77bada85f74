import type { Strip } from './trial-document.ts';

export type PassProposal =
  | {
      readonly ok: true;
      readonly passesOfStrips: Readonly<Record<string, readonly number[]>>;
      readonly each: number;
    }
  | { readonly ok: false; readonly strips: number; readonly passes: number };

/**
 * Which passes may belong to which strip, by the layout's own order? Strips in the order of their places (where all
 * have one, else of the document) take the given passes in field order, as many each; `fromOtherEdge`: the first
 * strip lies at the last pass. Refused, with the counts, where the passes cannot be shared out evenly: which of them
 * is a border is not for us to guess.
 */
export function proposePasses(
  strips: readonly Strip[],
  passes: readonly number[],
  fromOtherEdge = false,
): PassProposal {
  const each = passes.length / strips.length;
  if (!(each >= 1) || !Number.isInteger(each))
    return { ok: false, strips: strips.length, passes: passes.length };
  const inOrder = [...passes].sort((a, b) => (fromOtherEdge ? b - a : a - b));
  const shares = stripsInOrder(strips).map(({ id }, k) => {
    const own = inOrder.slice(k * each, (k + 1) * each).sort((a, b) => a - b);
    return [id, own] as const;
  });
  return { ok: true, passesOfStrips: Object.fromEntries(shares), each };
}

/** By place across the field where every strip has one; else as the document lists them. */
export function stripsInOrder(strips: readonly Strip[]): readonly Strip[] {
  if (strips.some(({ place }) => place === null)) return strips;
  return [...strips].sort((a, b) => (a.place ?? 0) - (b.place ?? 0));
}
