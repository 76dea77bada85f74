import { type Problem, problem } from '../trial/problem.ts';
import { machineInModel } from './machine-term.ts';
import type { ReportResponse } from './report-model.ts';
import { PLAIN_MODEL, type Plot, type PlotModel, type ResponsePlots } from './response-plots.ts';

/** The plots of a response that have a value, with treatments and blocks renumbered to those that occur. */
export interface ResponseDesign {
  readonly design: ReportResponse['design'];
  /** Those with a value; the following stand in their order. */
  readonly plots: readonly Plot[];
  readonly deviations: readonly number[];
  readonly treatmentOfPlot: readonly number[];
  /** null: analysed without blocks. */
  readonly blockOfPlot: readonly number[] | null;
  /** For each treatment analysed, its index in the response's own list. */
  readonly treatments: readonly number[];
  readonly blocks: readonly number[];
  readonly plotsWithoutValue: number;
  readonly problems: readonly Problem[];
}

/** Gaps named one by one; further ones are counted. */
const NAMED_GAPS = 12;

/**
 * Which analysis the plots carry. Blocks that each hold every treatment equally often are complete: the exact
 * analysis of randomized complete blocks. Where a treatment lacks from a block (a lost strip, a block too small) or
 * stands in it more often than another, the same model is fitted by least squares with adjusted means, and every
 * such cell is named. Without blocks: completely randomized, whatever the replication.
 */
export function designOf(response: ResponsePlots): ResponseDesign {
  const usable = response.plots.filter(
    (plot) =>
      plot.deviation !== null &&
      (response.blocks === null || plot.block !== null) &&
      lacking(plot, response.model ?? PLAIN_MODEL) === null,
  );
  const treatments = occurring(response.treatments.length, usable, (plot) => plot.treatment);
  const blocks =
    response.blocks === null ? [] : occurring(response.blocks.length, usable, (plot) => plot.block ?? -1);
  const treatmentLevel = new Map(treatments.map((own, level) => [own, level]));
  const blockLevel = new Map(blocks.map((own, level) => [own, level]));
  const counts = cellCounts(response, usable);
  return {
    design: designName(response, treatments, blocks, counts),
    plots: usable,
    deviations: usable.map((plot) => plot.deviation ?? 0),
    treatmentOfPlot: usable.map((plot) => treatmentLevel.get(plot.treatment) ?? 0),
    blockOfPlot:
      response.blocks === null ? null : usable.map((plot) => blockLevel.get(plot.block ?? -1) ?? 0),
    treatments,
    blocks,
    plotsWithoutValue: response.plots.length - usable.length,
    problems: [
      ...missingLevels(response, treatments, blocks),
      ...(response.model?.square ? [] : cellProblems(response, treatments, blocks, counts)),
      ...squareProblems(response, usable, treatments.length),
      ...lackingProblems(response),
      ...machineProblems(response, usable),
    ],
  };
}

function occurring(count: number, plots: readonly Plot[], levelOf: (plot: Plot) => number): number[] {
  const seen = new Set(plots.map(levelOf));
  return Array.from({ length: count }, (_, level) => level).filter((level) => seen.has(level));
}

type CellCounts = ReadonlyMap<number, number>;

/** Plots with a value by block * treatments + treatment. */
function cellCounts(response: ResponsePlots, plots: readonly Plot[]): CellCounts {
  const counts = new Map<number, number>();
  for (const plot of plots) {
    if (plot.block === null) continue;
    const cell = plot.block * response.treatments.length + plot.treatment;
    counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  return counts;
}

function designName(
  response: ResponsePlots,
  treatments: readonly number[],
  blocks: readonly number[],
  counts: CellCounts,
): ReportResponse['design'] {
  if (response.model?.square) return 'latinSquare';
  if (response.model?.factors?.split) return 'splitPlot';
  if (response.blocks === null) return 'completelyRandomized';
  // A check that stands several times in every block leaves means as they are, as long as it does so in all.
  const isAlikeInAll = (treatment: number) => {
    const inBlocks = blocks.map((block) => counts.get(block * response.treatments.length + treatment) ?? 0);
    return inBlocks.every((plots) => plots > 0 && plots === inBlocks[0]);
  };
  const complete = treatments.every(isAlikeInAll);
  return complete ? 'randomizedCompleteBlocks' : 'incompleteBlocks';
}

function missingLevels(
  response: ResponsePlots,
  treatments: readonly number[],
  blocks: readonly number[],
): Problem[] {
  const laidOut = new Set(response.plots.map(({ treatment }) => treatment));
  const withoutTreatment = response.treatments
    .filter((_, own) => laidOut.has(own) && !treatments.includes(own))
    .map((treatment) =>
      problem('warning', 'treatmentWithoutValues', {}, { response: response.name, treatment }),
    );
  const withoutBlock = (response.blocks ?? [])
    .filter((_, own) => !blocks.includes(own))
    .map((block) => problem('warning', 'blockWithoutValues', {}, { response: response.name, block }));
  return [...withoutTreatment, ...withoutBlock];
}

function cellProblems(
  response: ResponsePlots,
  treatments: readonly number[],
  blocks: readonly number[],
  counts: CellCounts,
): Problem[] {
  const names = response.blocks;
  if (names === null) return [];
  const found = blocks.flatMap((block) =>
    treatments.flatMap((treatment) => {
      const plots = counts.get(block * response.treatments.length + treatment) ?? 0;
      if (plots === 1) return [];
      const cell = {
        response: response.name,
        treatment: response.treatments[treatment] ?? '',
        block: names[block] ?? '',
      };
      return plots === 0
        ? [problem('warning', 'treatmentMissingFromBlock', {}, cell)]
        : [problem('note', 'treatmentRepeatedInBlock', {}, { ...cell, plots })];
    }),
  );
  const rest = found.length - NAMED_GAPS;
  if (rest <= 0) return found;
  const counted = problem('warning', 'furtherGaps', {}, { response: response.name, count: rest });
  return [...found.slice(0, NAMED_GAPS), counted];
}

/** What the model needs of a plot and the plot does not have. */
function lacking(plot: Plot, model: PlotModel): string | null {
  if (model.covariate !== null && (plot.covariate ?? null) === null) return model.covariate;
  if (model.machine !== null && (plot.machine ?? null) === null) return model.machine.heading;
  if (model.trend !== null && (plot.place ?? null) === null) return model.trend.heading;
  return null;
}

function lackingProblems(response: ResponsePlots): Problem[] {
  const model = response.model ?? PLAIN_MODEL;
  return response.plots
    .filter((plot) => plot.deviation !== null)
    .flatMap((plot) => {
      const heading = lacking(plot, model);
      if (heading === null) return [];
      const plotDetails = { response: response.name, plot: plot.label ?? '' };
      if (heading === model.machine?.heading)
        return [problem('warning', 'stripOfSeveralMachines', {}, plotDetails)];
      const details = { ...plotDetails, heading };
      return [problem('warning', 'plotLacksCovariate', {}, details)];
    });
}

function machineProblems(response: ResponsePlots, plots: readonly Plot[]): Problem[] {
  const { use } = machineInModel(response, plots);
  if (use !== 'inBlocks' && use !== 'partly') return [];
  const code = use === 'inBlocks' ? 'machineGoesWithBlocks' : 'machinePartlyInBlocks';
  return [problem('note', code, {}, { response: response.name })];
}

/** A square in which some treatment is not once in each row and each column is analysed all the same, and that is said. */
function squareProblems(response: ResponsePlots, plots: readonly Plot[], treatments: number): Problem[] {
  const square = response.model?.square;
  if (!square) return [];
  const once = (along: (plot: Plot) => number | undefined) =>
    new Set(plots.map((plot) => `${plot.treatment} ${along(plot)}`)).size === plots.length;
  const isLatin =
    plots.length === treatments ** 2 &&
    square.rows.names.length === treatments &&
    square.columns.names.length === treatments &&
    once(({ row }) => row) &&
    once(({ column }) => column);
  return isLatin ? [] : [problem('warning', 'notALatinSquare', {}, { response: response.name })];
}

/**
 * Treatments that no chain of shared blocks links: between such groups blocks and treatments are confounded. One
 * group when all are linked; group members are levels of the design.
 */
export function linkedGroups(design: ResponseDesign): readonly (readonly number[])[] {
  const all = design.treatments.map((_, level) => level);
  if (design.blockOfPlot === null) return [all];
  const groupOf = [...all];
  const merge = (a: number, b: number) => {
    const [kept, gone] = [groupOf[a] ?? a, groupOf[b] ?? b];
    for (const level of all) if (groupOf[level] === gone) groupOf[level] = kept;
  };
  const firstOfBlock = new Map<number, number>();
  design.blockOfPlot.forEach((block, plot) => {
    const treatment = design.treatmentOfPlot[plot] ?? 0;
    const first = firstOfBlock.get(block);
    if (first === undefined) firstOfBlock.set(block, treatment);
    else if (groupOf[first] !== groupOf[treatment]) merge(first, treatment);
  });
  return [...new Set(groupOf)].map((group) => all.filter((level) => groupOf[level] === group));
}
