import { chiSquaredUpperTail } from './distributions/chi-squared.ts';
import { fUpperTail } from './distributions/f.ts';
import { midranks } from './midranks.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface Friedman {
  readonly blocks: number;
  /** One a treatment. */
  readonly rankSums: readonly number[];
  readonly chiSquared: number;
  readonly df: number;
  readonly p: number;
  /** Iman and Davenport's F from the same ranks, closer to the truth in few blocks; null where the ranks agree fully. */
  readonly f: { readonly f: number; readonly df1: number; readonly df2: number; readonly p: number } | null;
}

/**
 * Friedman's test: do treatments differ, judged by their ranks within blocks? Needs no normal values.
 *
 * Definition: midranks, with the correction for ties.
 *
 * @param valueOfBlock - blocks x treatments, complete
 * @returns the result, or a refusal: `tooFewTreatments` {levels}; `tooFewPlots` {blocks, needed} below two blocks;
 * `nonFiniteValue` {block}; `constantResponse` when every block is one tie
 * @throws RangeError when blocks differ in length
 * Source: M. Friedman (1937) J. Am. Stat. Assoc. 32:675-701; R. L. Iman & J. M. Davenport (1980) Comm. Stat. A9:571-595.
 */
export function friedman(valueOfBlock: readonly (readonly number[])[]): Friedman | Refusal {
  const blocks = valueOfBlock.length;
  const treatments = valueOfBlock[0]?.length ?? 0;
  if (valueOfBlock.some((block) => block.length !== treatments))
    throw new RangeError(`friedman: expected ${treatments} values in every block`);
  if (treatments < 2) return refuse('tooFewTreatments', { levels: treatments });
  if (blocks < 2) return refuse('tooFewPlots', { blocks, needed: 2 });
  const block = valueOfBlock.findIndex((values) => values.some((value) => !Number.isFinite(value)));
  if (block >= 0) return refuse('nonFiniteValue', { block });
  const ranks = valueOfBlock.map(midranks);
  const rankSums = ranks[0]!.map((_, j) => ranks.reduce((sum, own) => sum + own[j]!, 0));
  const expected = (blocks * (treatments + 1)) / 2;
  const between = rankSums.reduce((sum, own) => sum + (own - expected) ** 2, 0) / blocks;
  const within = ranks.flat().reduce((sum, rank) => sum + (rank - (treatments + 1) / 2) ** 2, 0);
  if (within === 0) return refuse('constantResponse', { blocks });
  const df = treatments - 1;
  const chiSquared = (blocks * df * between) / within;
  return {
    blocks,
    rankSums,
    chiSquared,
    df,
    p: chiSquaredUpperTail(chiSquared, df),
    f: imanDavenport(chiSquared, blocks, df),
  };
}

function imanDavenport(chiSquared: number, blocks: number, df1: number): Friedman['f'] {
  const rest = blocks * df1 - chiSquared;
  if (rest <= 1e-12 * blocks * df1) return null;
  const f = ((blocks - 1) * chiSquared) / rest;
  const df2 = (blocks - 1) * df1;
  return { f, df1, df2, p: fUpperTail(f, df1, df2) };
}
