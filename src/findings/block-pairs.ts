import type { Pair } from '../../analyses/paired-t.ts';
import type { ResponseDesign } from './response-design.ts';

/** Values of a and b in one block, by block; those of a block that does not hold both exactly once are left out. */
export interface BlockPairs {
  readonly pairs: readonly (Pair & { readonly a: number; readonly b: number })[];
  /** Whether every block that holds one of the two holds both exactly once. */
  readonly complete: boolean;
}

/** Two treatments side by side within blocks; null without blocks. a and b are levels of the design. */
export function blockPairs(a: number, b: number, design: ResponseDesign): BlockPairs | null {
  const { blockOfPlot, treatmentOfPlot, deviations } = design;
  if (blockOfPlot === null) return null;
  const held = new Map<number, { a: number[]; b: number[] }>();
  blockOfPlot.forEach((block, plot) => {
    const treatment = treatmentOfPlot[plot];
    if (treatment !== a && treatment !== b) return;
    const own = held.get(block) ?? { a: [], b: [] };
    held.set(block, own);
    own[treatment === a ? 'a' : 'b'].push(deviations[plot] ?? 0);
  });
  const byBlock = [...held.entries()].sort(([x], [y]) => x - y).map(([, own]) => own);
  const whole = byBlock.filter((own) => own.a.length === 1 && own.b.length === 1);
  return {
    pairs: whole.map((own) => ({ a: own.a[0] ?? 0, b: own.b[0] ?? 0 })),
    complete: whole.length === byBlock.length,
  };
}

export function differencesOfPairs({ pairs }: BlockPairs): number[] {
  return pairs.map(({ a, b }) => a - b);
}
