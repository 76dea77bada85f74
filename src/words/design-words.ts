const DESIGN_WORDS: Readonly<Record<string, string>> = {
  randomizedCompleteBlocks: 'randomized complete blocks',
  incompleteBlocks: 'incomplete blocks, means adjusted by least squares',
  completelyRandomized: 'completely randomized',
  latinSquare: 'Latin square (rows and columns)',
  splitPlot: 'split plot in blocks',
};

export function designWords(design: string | null): string {
  return design === null ? 'design not known' : (DESIGN_WORDS[design] ?? design);
}

export const TYPE_II_NOTE =
  'Blocks and treatments are each adjusted for the other, so their sums of squares need not add up to the total.';
