import type { LinearModelFit } from './linear-model.ts';
import type { FactorTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface EfficiencyOfBlocking {
  /**
   * Error variance without blocks over that with them: so many times the strips would a trial without blocks have needed. 1
   * where blocks were of no use; below 1 they did harm.
   */
  readonly relativeEfficiency: number;
  /** The same, less what the blocks cost in error df (Fisher). */
  readonly adjustedForDf: number;
}

/**
 * What did the blocks bring? The error variance that the same strips would have had without blocks, over the one they had.
 *
 * Definition: estimated from this trial as ((r - 1) block ms + r (t - 1) error ms) / ((r t - 1) error ms), for t treatments in
 * r complete blocks. Says something about how to lay out the next trial on such ground, nothing about the treatments.
 *
 * @param fit - of exactly two factors, blocks and treatments
 * @param block - id of the block factor
 * @returns the efficiency, or a refusal: `noErrorDf`; `noErrorVariation`; `emptyCell` {block, treatment, plots} where a
 * treatment is in a block not exactly once
 * @throws RangeError when the fit is not of two factors, or none is called `block`
 * Source: K. A. Gomez & A. A. Gomez (1984) Statistical Procedures for Agricultural Research, 2nd ed., section 2.2.3; R. A.
 * Fisher (1935) The Design of Experiments, section 74 (df).
 */
export function efficiencyOfBlocking(fit: LinearModelFit, block: string): EfficiencyOfBlocking | Refusal {
  const [blocks, treatments] = blocksAndTreatments(fit, block);
  const uneven = unevenCell(blocks, treatments);
  if (uneven !== null) return uneven;
  const [r, t] = [blocks.levelCount, treatments.levelCount];
  const { df, ms } = fit.error;
  const blockMs = fit.rows.find((row) => row.term === block)!.ms;
  if (ms === null || blockMs === null) return refuse('noErrorDf', { errorDf: df });
  if (ms === 0) return refuse('noErrorVariation', { errorDf: df });
  const relativeEfficiency = ((r - 1) * blockMs + r * (t - 1) * ms) / ((r * t - 1) * ms);
  const dfWithout = t * (r - 1);
  const information = ((df + 1) * (dfWithout + 3)) / ((df + 3) * (dfWithout + 1));
  return { relativeEfficiency, adjustedForDf: relativeEfficiency * information };
}

function blocksAndTreatments(fit: LinearModelFit, block: string): readonly [FactorTerm, FactorTerm] {
  const blocks = fit.terms.find((term) => term.id === block);
  const treatments = fit.terms.find((term) => term.id !== block);
  if (fit.terms.length !== 2 || blocks?.kind !== 'factor' || treatments?.kind !== 'factor')
    throw new RangeError(
      `efficiencyOfBlocking: expected the factor ${block} and one more, got ${fit.terms.map((term) => term.id)}`,
    );
  return [blocks, treatments];
}

function unevenCell(blocks: FactorTerm, treatments: FactorTerm): Refusal | null {
  for (let block = 0; block < blocks.levelCount; block++)
    for (let treatment = 0; treatment < treatments.levelCount; treatment++) {
      const plots = blocks.levelOfPlot.filter(
        (own, plot) => own === block && treatments.levelOfPlot[plot] === treatment,
      ).length;
      if (plots !== 1) return refuse('emptyCell', { block, treatment, plots });
    }
  return null;
}
