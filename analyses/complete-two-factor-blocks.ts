import type { FactorTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';

/**
 * Whether every combination of two factors stands exactly once in every block, as split plots and split blocks need.
 *
 * @param names - what the two factors are called in the refusal's details
 * @returns null, or `tooFewTreatments` {term, levels}; `noErrorDf` {term} in one block; `emptyCell` {block, <first>, <second>,
 * plots} for the first combination that is there not exactly once
 */
export function incompleteTwoFactorBlocks(
  block: FactorTerm,
  first: FactorTerm,
  second: FactorTerm,
  names: readonly [string, string],
): Refusal | null {
  const small = [first, second].find((factor) => factor.levelCount < 2);
  if (small !== undefined) return refuse('tooFewTreatments', { term: small.id, levels: small.levelCount });
  if (block.levelCount < 2) return refuse('noErrorDf', { term: block.id });
  const key = (b: number, i: number, j: number) => (b * first.levelCount + i) * second.levelCount + j;
  const plots = new Map<number, number>();
  block.levelOfPlot.forEach((b, plot) => {
    const own = key(b, first.levelOfPlot[plot]!, second.levelOfPlot[plot]!);
    plots.set(own, (plots.get(own) ?? 0) + 1);
  });
  for (let b = 0; b < block.levelCount; b++)
    for (let i = 0; i < first.levelCount; i++)
      for (let j = 0; j < second.levelCount; j++) {
        const count = plots.get(key(b, i, j)) ?? 0;
        if (count !== 1) return refuse('emptyCell', { block: b, [names[0]]: i, [names[1]]: j, plots: count });
      }
  return null;
}
