import type { AdviceByCode } from './sentence.ts';

/** What the analysis has to say about the strips that it was given. */
export const FINDINGS_ADVICE: AdviceByCode = {
  treatmentMissingFromBlock: {
    message: '{response}: treatment {treatment} has no value in block {block}.',
    whatToDo:
      'The means are adjusted by least squares for the blocks that each treatment lacks; compare adjusted means, not raw ones.',
  },
  treatmentRepeatedInBlock: {
    message: '{response}: treatment {treatment} has {plots} values in block {block}.',
    whatToDo:
      'Each is taken as a strip of its own, by least squares; if they are samples of one strip, say so and average them.',
  },
  furtherGaps: {
    message:
      '{response}: further combinations of treatment and block have no value, or more than one: {count}.',
    whatToDo: 'Compare adjusted means; the table of strips shows which values there are.',
  },
  treatmentWithoutValues: {
    message: '{response}: treatment {treatment} has no value at all and is left out of this analysis.',
    whatToDo: 'Check that its strips were harvested and that their names match the layout.',
  },
  blockWithoutValues: {
    message: '{response}: block {block} has no value at all and is left out of this analysis.',
    whatToDo: 'Check that the block was harvested and that its strips match the layout.',
  },
  stripOutsideSquare: {
    message: 'Strip {strip} has no row or no column, and the trial is to be analysed as a Latin square.',
    whatToDo: 'Give the strip its row and its column, or analyse the trial by blocks.',
  },
  treatmentWithoutLevels: {
    message: 'Treatment {treatment} has no level of {first} and {second}, the two factors of the trial.',
    whatToDo: 'Give every treatment on a strip its level of both factors, or analyse without factors.',
  },
  levelsGivenTwice: {
    message: 'Treatments {treatment} and {other} have the same levels of both factors.',
    whatToDo: 'Make them one treatment, or give each its own levels.',
  },
  stripWithoutBlock: {
    message: 'Strip {strip} belongs to no block and is left out of an analysis by blocks.',
    whatToDo: 'Give the strip its block, or analyse the trial as completely randomized if it had no blocks.',
  },
  noBlocksGiven: {
    message: 'No strip names a block, so the trial is analysed without blocks.',
    whatToDo:
      'Give each strip its block if the treatments were randomised within blocks; else say on the Trial page that it has none.',
  },
  plotLacksCovariate: {
    message: '{response}: {plot} has no value of {heading} and is left out of this analysis.',
    whatToDo: 'Complete the column, or analyse without it.',
  },
  stripOfSeveralMachines: {
    message:
      '{response}: {plot} is not known to be cut by one machine alone and is left out of this analysis.',
    whatToDo: 'Say which machine harvested each file, or leave the machine out of the model.',
  },
  machineGoesWithBlocks: {
    message:
      '{response}: each block was cut by one machine, so the difference between machines is taken out with the blocks.',
    whatToDo: 'Nothing: the machine needs no term of its own.',
  },
  machinePartlyInBlocks: {
    message:
      '{response}: part of the difference between machines is one between blocks and is taken out with them; the machine’s line holds the rest. Means stand at each block’s own machines.',
    whatToDo: 'Nothing: differences between treatments are freed of all of it.',
  },
  machinesNotKnown: {
    message:
      'The machine is to be a term of the model, but it is not known of two machines which strips they cut.',
    whatToDo:
      'Name the machine of each harvest file, or a column that holds it; the analysis goes on without it.',
  },
  machineCanBeTerm: {
    message:
      'More than one machine harvested, each strip was cut by one alone, and their difference can be told from that of the treatments: {machines}.',
    whatToDo:
      'Take the machine into the model, under how the answer is decided; best settled before the answer is seen.',
  },
  marginNotOnScale: {
    message: '{response}: the margin stands on the scale people read and is not used on the transformed one.',
    whatToDo: 'Nothing is called the same; analyse without a transformation to use the margin.',
  },
  notALatinSquare: {
    message:
      '{response}: not every treatment stands exactly once in each row and each column, so this is no complete Latin square.',
    whatToDo:
      'Rows and columns are adjusted for by least squares; compare adjusted means, and check the plan if it was meant to be complete.',
  },
  contrastNotZero: {
    message: 'The weights of the contrast {contrast} add up to {sum}, not to zero.',
    whatToDo: 'Give weights that add up to zero, such as A=1; B=-0.5; C=-0.5.',
  },
  checkNotFound: {
    message: 'There is no treatment called {check} to serve as the check.',
    whatToDo: 'Name one of the treatments: {treatments}.',
  },
  treatmentNotFound: {
    message: 'There is no treatment called {treatment} to compare.',
    whatToDo: 'Name one of the treatments: {treatments}.',
  },
  checkWithoutValues: {
    message: '{response}: the check {check} has no value, so nothing can be compared with it.',
    whatToDo: 'Recover the strips of the check, or choose to compare all pairs.',
  },
  namedPairWithoutValues: {
    message: '{response}: {a} against {b} cannot be compared, since one of them has no value.',
    whatToDo: 'Recover the strips of that treatment, or take the pair off the list.',
  },
};
