import { leftOfFactor } from '../../analyses/left-of-factor.ts';
import type { FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';
import { factorOf } from './plot-factors.ts';
import { PLAIN_MODEL, type Plot, type ResponsePlots } from './response-plots.ts';

/** Machines by strip, in the trial's order; null: not known, or several. */
export type MachineOfStrip = readonly (string | null)[];

/** The machines of strips in the order in which they first occur. */
export function machineNames(machines: MachineOfStrip | null): readonly string[] {
  return [...new Set((machines ?? []).filter((name) => name !== null))];
}

/** Blocks, or rows and columns of a square: what else the plots are grouped by, as terms of the model. */
export function groupingsOf(response: ResponsePlots, plots: readonly Plot[]): readonly FactorTerm[] {
  if ((response.model ?? PLAIN_MODEL).square !== null)
    return [factorOf('row', plots, ({ row }) => row), factorOf('column', plots, ({ column }) => column)];
  if (response.blocks === null) return [];
  const block = factorOf('block', plots, (plot) => plot.block);
  return block.levelCount > 1 ? [block] : [];
}

export interface MachineInModel {
  /**
   * 'inBlocks': all of the difference between machines is taken out with blocks (or rows and columns) and no term is left
   * for it; 'partly': some of it is, and the term holds the rest.
   */
  readonly use: 'term' | 'partly' | 'inBlocks' | 'none';
  readonly term: ModelTerm | null;
}

/** How the machine enters the model of these plots, beside blocks or rows and columns. */
export function machineInModel(response: ResponsePlots, plots: readonly Plot[]): MachineInModel {
  const model = response.model ?? PLAIN_MODEL;
  if (model.machine === null || new Set(plots.map(({ machine }) => machine)).size < 2)
    return { use: 'none', term: null };
  const machine = factorOf('machine', plots, (plot) => plot.machine);
  const { df, estimableDf, term } = leftOfFactor(machine, groupingsOf(response, plots));
  if (term === null) return { use: 'inBlocks', term };
  return estimableDf === df ? { use: 'term', term: machine } : { use: 'partly', term };
}
