import { type Details, fill, listed } from './sentence.ts';

/** Why a response was not analysed, and what would help. */
export interface RefusalWords {
  readonly message: string;
  readonly whatWouldHelp: string;
}

const WORDS: Readonly<Record<string, RefusalWords>> = {
  tooFewTreatments: {
    message: 'Fewer than two treatments have values, so there is nothing to compare.',
    whatWouldHelp: 'Values of at least two treatments, best of one untreated check and one product.',
  },
  tooFewPlots: {
    message: 'There are fewer strips with values than effects to estimate.',
    whatWouldHelp: 'More strips with values: each treatment in each of at least three or four blocks.',
  },
  noErrorDf: {
    message: 'Nothing is left over to judge chance by: no treatment was repeated.',
    whatWouldHelp: 'At least three, better four or more, blocks that each hold every treatment.',
  },
  constantResponse: {
    message: 'All values are the same, so neither differences nor chance can be measured.',
    whatWouldHelp: 'Values as they were measured, with enough decimals to differ.',
  },
  nonFiniteValue: {
    message: 'A value is not a number that can be reckoned with.',
    whatWouldHelp: 'Correct the value, or leave the cell blank if the strip was lost.',
  },
  confoundedTerms: {
    message: 'The {term} effect cannot be told apart from the {with} effect: they line up.',
    whatWouldHelp:
      'Blocks in which the treatments lie side by side; within each block at least two of them, and every treatment linked to the others through shared blocks.',
  },
  emptyCell: {
    message: 'A combination of the two factors was tried on no strip.',
    whatWouldHelp: 'Values for every combination, or an analysis without the interaction.',
  },
  noCompletePair: {
    message: 'Fewer than two blocks hold both treatments of the pair.',
    whatWouldHelp: 'At least three, better four or more, blocks with both treatments.',
  },
  noErrorVariation: {
    message: 'Treatments and blocks explain the values without any remainder, which real strips never do.',
    whatWouldHelp:
      'Check whether values were copied, averaged or computed; hand over each strip as it was measured.',
  },
  alphaOutOfRange: {
    message: 'The significance level {alpha} is not above 0 and at most 0.5.',
    whatWouldHelp: 'A level such as 0.05, or 0.10 where that was chosen before harvest.',
  },
  outsideTransformation: {
    message: 'The value {value} cannot be put on the scale that was chosen ({kind}).',
    whatWouldHelp:
      'Logarithms need values above zero, square roots values of zero or more, the angular scale percentages from 0 to 100; choose another scale or none.',
  },
  tooFewRates: {
    message: 'The response to a rate needs at least {needed} different rates; there are {rates}.',
    whatWouldHelp: 'Treatments named by their rate, such as 0, 50, 100 and 150.',
  },
  quadraticDoesNotFit: {
    message: 'The rates differ by more than a parabola explains, so it tells no best rate.',
    whatWouldHelp: 'Read the means rate by rate.',
  },
  bendsUpwards: {
    message: 'The response bends upwards, so the parabola has a lowest point and no best rate.',
    whatWouldHelp: 'Read the means rate by rate, or try higher rates.',
  },
  bendNotDistinguishable: {
    message: 'The bend of the response could be chance, so a best rate could lie anywhere.',
    whatWouldHelp: 'More blocks or rates further apart.',
  },
  bestRateOutsideData: {
    message: 'The best rate would lie outside the rates that were tried.',
    whatWouldHelp: 'A trial with rates on both sides of it.',
  },
  machineLinesUpInModel: {
    message:
      'The machine was to be a term of the model, but its difference cannot be told from {other}: they line up.',
    whatWouldHelp:
      'Weights of the strips, which need no monitor; next time each block cut by one machine. Without the term the difference between machines is part of the treatments’.',
  },
  machineLeavesNoError: {
    message: 'With the machine as a term of the model (df: {df}) nothing is left over to judge chance by.',
    whatWouldHelp:
      'More blocks; or leave the machine out of the model, and say that its difference is then part of the treatments’.',
  },
  splitPlotNeedsBlocks: {
    message: 'A split plot needs blocks: without them the error of main plots cannot be told.',
    whatWouldHelp: 'Name the column that holds the blocks.',
  },
  splitPlotPlainOnly: {
    message:
      'A split plot is not analysed together with a covariate, a trend across the field, contrasts or a response to rate.',
    whatWouldHelp: 'Leave these out.',
  },
  machineInSplitPlot: {
    message:
      'The machine was to be a term of the model of a split plot, but machines changed within blocks: their difference stands partly between main plots and partly between sub-plots, each with an error of its own, and no single term takes it out of both.',
    whatWouldHelp:
      'Weights of the strips, which need no monitor; or the analysis without the machine, saying that its difference may stand in the comparisons; next time harvest each block with one machine.',
  },
  splitPlotIncomplete: {
    message:
      'The split plot is incomplete: {main} with {sub} stands on {plots} plots of block {block}, not on one, so its two errors do not come apart by least squares.',
    whatWouldHelp:
      'A value for every combination in every block; or leave the whole block out, if that can be justified and is said.',
  },
  procedureNotForSplitPlot: {
    message:
      'The procedure {procedure} needs one error for all comparisons, and a split plot has one for main and one for sub levels.',
    whatWouldHelp: 'Bonferroni, Holm or the LSD.',
  },
  checkIsNoLevel: {
    message: '{check} is a level of neither factor.',
    whatWouldHelp: 'Name a level of the main or of the sub factor as the check, or none.',
  },
  noCheck: {
    message: 'The comparisons are to be made against a check, but no treatment is marked as the check.',
    whatWouldHelp: 'Mark the check, or choose to compare all pairs.',
  },
  noNamedPairs: {
    message: 'Only named pairs are to be compared, but none is named.',
    whatWouldHelp: 'Name the pairs that matter, or choose all pairs or the comparisons against the check.',
  },
  procedureNeedsCheck: {
    message:
      'The procedure {procedure} compares each treatment with one check, which is not what was asked for.',
    whatWouldHelp: 'Compare against the check, or choose a procedure for these comparisons.',
  },
};

/** Names the groups of treatments that never meet in a block, not even through others, and what can be told all the same. */
export function confoundedTreatments(groups: readonly (readonly string[])[]): RefusalWords {
  const words = refusalWords('confoundedTerms', { term: 'treatment', with: 'block' });
  const named = groups.map((group) => listed(group)).join('; ');
  const links = groups.length === 2 ? 'a block that holds' : `at least ${groups.length - 1} blocks that hold`;
  return {
    message: `${words.message} No shared block links these groups of treatments: ${named}.`,
    whatWouldHelp: `${withinGroups(groups)} To compare between groups: ${links} treatments of both of two groups; best every treatment in every block.`,
  };
}

/** Adds to a refusal which treatments can be compared among themselves beside what lines up with them. */
export function partlyComparable(
  words: RefusalWords,
  groups: readonly (readonly string[])[],
  beside: readonly string[],
): RefusalWords {
  const named = groups.map((group) => listed(group)).join('; ');
  return {
    message: `${words.message} Beside ${listed(beside)}, treatments can be compared within these groups alone: ${named}.`,
    whatWouldHelp: `${withinGroups(groups)} ${words.whatWouldHelp}`,
  };
}

/** Names what was tried on no strip. */
export function emptyCombinations(cells: readonly string[]): RefusalWords {
  const words = refusalWords('emptyCell');
  return { ...words, message: `${words.message} Missing: ${listed(cells)}.` };
}

function withinGroups(groups: readonly (readonly string[])[]): string {
  const several = groups.filter(({ length }) => length > 1).map((group) => listed(group));
  if (several.length === 0) return 'No treatment can be compared with any other here.';
  return `What can be told here: an analysis of ${several.join(', and one of ')} alone, as far as these were repeated.`;
}

export const REFUSAL_CODES_WITH_WORDS: readonly string[] = Object.keys(WORDS);

/** Words of a refusal. A code without words is a fault of ours and still tells its code. */
export function refusalWords(code: string, details: Details = {}): RefusalWords {
  const words = WORDS[code];
  if (words === undefined)
    return {
      message: `This response cannot be analysed (${code}).`,
      whatWouldHelp: 'Check the values and the layout of this response.',
    };
  return { message: fill(words.message, details), whatWouldHelp: fill(words.whatWouldHelp, details) };
}
