import { PLAIN_MODEL, type Plot, type ResponsePlots } from './response-plots.ts';

/** Machines by strip, in the trial's order; null: not known, or several. */
export type MachineOfStrip = readonly (string | null)[];

/** The machines of strips in the order in which they first occur. */
export function machineNames(machines: MachineOfStrip | null): readonly string[] {
  return [...new Set((machines ?? []).filter((name) => name !== null))];
}

/**
 * How the machine enters the model of these plots. 'inBlocks': each block (or row, or column) was cut by one machine,
 * so that their difference is taken out with the blocks and no term is left for it.
 */
export function machineUse(response: ResponsePlots, plots: readonly Plot[]): 'term' | 'inBlocks' | 'none' {
  const model = response.model ?? PLAIN_MODEL;
  if (model.machine === null || new Set(plots.map(({ machine }) => machine)).size < 2) return 'none';
  const groupings: readonly ((plot: Plot) => unknown)[] =
    model.square !== null
      ? [({ row }) => row, ({ column }) => column]
      : response.blocks === null
        ? []
        : [({ block }) => block];
  return groupings.some((group) => isTold(plots, group)) ? 'inBlocks' : 'term';
}

function isTold(plots: readonly Plot[], group: (plot: Plot) => unknown): boolean {
  const machineOf = new Map<unknown, Plot['machine']>();
  return plots.every((plot) => {
    const first = machineOf.has(group(plot)) ? machineOf.get(group(plot)) : plot.machine;
    machineOf.set(group(plot), first);
    return first === plot.machine;
  });
}
