import { fitLinearModel, type LinearModelFit } from './linear-model.ts';
import type { FactorTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';
import { type RandomNumbers, shuffled } from './seeded-generator.ts';

export interface RandomizationTest {
  /** Treatment F of the arrangement that was used. */
  readonly f: number;
  /** Arrangements whose F is at least as large, the one used included. */
  readonly asExtreme: number;
  /** Arrangements looked at, the one used included. */
  readonly arrangements: number;
  readonly p: number;
}

const TIE = 1e-9;

/**
 * The randomization test of treatments in blocks: had they been drawn otherwise within each block, how often would F be as
 * large? Rests on the randomisation alone, on no distribution.
 *
 * Draws arrangements at random from all those that blocks allow and counts the one used, so p is never zero and never
 * favours the treatments.
 *
 * @param fit - of blocks and treatments (or treatments alone), randomised as `blockOfPlot` says
 * @param treatment - id of the treatment factor
 * @param blockOfPlot - treatments change places only among plots of one block; one and the same for all in a completely
 * randomized trial
 * @param random - a seeded generator
 * @param draws - arrangements drawn
 * @returns the result, or a refusal: `noErrorDf`; `noErrorVariation` for an exact fit
 * @throws RangeError when there is no such factor, or blocks do not match the plots
 * Source: R. A. Fisher (1935) The Design of Experiments, ch. 3; B. L. Welch (1937) Biometrika 29:21-52.
 */
export function randomizationTest(
  fit: LinearModelFit,
  treatment: string,
  blockOfPlot: readonly number[],
  random: RandomNumbers,
  draws = 1999,
): RandomizationTest | Refusal {
  const term = fit.terms.find((candidate) => candidate.id === treatment);
  if (term?.kind !== 'factor') throw new RangeError(`randomizationTest: expected a factor, got ${treatment}`);
  if (blockOfPlot.length !== fit.n)
    throw new RangeError(`randomizationTest: expected ${fit.n} plots, got ${blockOfPlot.length}`);
  if (fit.error.df < 1) return refuse('noErrorDf', { errorDf: fit.error.df });
  const used = fOf(fit, treatment);
  if (used === null) return refuse('noErrorVariation', { errorDf: fit.error.df });
  const plotsOfBlock = [...new Set(blockOfPlot)].map((block) =>
    blockOfPlot.flatMap((own, plot) => (own === block ? [plot] : [])),
  );
  let asExtreme = 1;
  for (let draw = 0; draw < draws; draw++) {
    const levels = rearranged(term, plotsOfBlock, random);
    const terms = fit.terms.map((other) => (other === term ? { ...term, levelOfPlot: levels } : other));
    const drawn = fitLinearModel(fit.response, terms);
    // An arrangement that leaves no error, or cannot be told from the other terms, counts against the treatments.
    const f = 'refused' in drawn ? null : fOf(drawn, treatment);
    if (f === null || f >= used * (1 - TIE)) asExtreme++;
  }
  return { f: used, asExtreme, arrangements: draws + 1, p: asExtreme / (draws + 1) };
}

function fOf(fit: LinearModelFit, treatment: string): number | null {
  return fit.rows.find((row) => row.term === treatment)?.f ?? null;
}

function rearranged(
  term: FactorTerm,
  plotsOfBlock: readonly (readonly number[])[],
  random: RandomNumbers,
): number[] {
  const levels = [...term.levelOfPlot];
  for (const plots of plotsOfBlock) {
    const order = shuffled(plots.length, random);
    plots.forEach((plot, i) => {
      levels[plot] = term.levelOfPlot[plots[order[i]!]!]!;
    });
  }
  return levels;
}
