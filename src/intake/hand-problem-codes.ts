import type { IntakeProblemCodeEntry } from './problem-code-entry.ts';

/** Of weights and samples taken by hand, and of tables with one row a plot. */
export const HAND_PROBLEM_CODES = [
  // Hand harvest
  {
    code: 'noStripColumn',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'Rows can be joined to strips neither by a strip name nor by a treatment.',
  },
  {
    code: 'noHarvestColumn',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'Neither a weight, nor a yield, nor any other number to analyse.',
  },
  {
    code: 'weightWithoutArea',
    severity: 'error',
    place: 'column',
    details: { headings: 'list' },
    means: 'A weight needs the area it came from: length and width, or area.',
  },
  {
    code: 'notPositive',
    severity: 'error',
    place: 'cell',
    details: { value: 'number', count: 'such cells' },
    means: 'A length, width or area of zero or less; or a weight below zero.',
  },
  {
    code: 'rowWithoutStrip',
    severity: 'error',
    place: 'row',
    details: { count: 'such rows' },
    means: 'Rows in which the strip, or the treatment, is blank.',
  },
  {
    code: 'otherResponsesTaken',
    severity: 'note',
    place: 'file',
    details: { headings: 'list' },
    means: 'Further numeric columns, taken as responses of their own.',
  },
  // Plot tables
  {
    code: 'responseTaken',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'No response was named; this is the only numeric column left, so it was taken.',
  },
  {
    code: 'treatmentTaken',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'No treatment column was named; this heading means it, so it was taken.',
  },
  {
    code: 'blockNotUsed',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'The column looks like a block but was not named, so the trial is read as completely randomized.',
  },
  {
    code: 'blankLevel',
    severity: 'error',
    place: 'cell',
    details: { count: 'such rows' },
    means: 'The treatment or block is blank in these rows.',
  },
  {
    code: 'levelsAlike',
    severity: 'warning',
    place: 'column',
    details: { a: 'one spelling', b: 'the other' },
    means: 'Two names differ only in capitals, spaces or punctuation; they were kept as two.',
  },
  {
    code: 'subsamplesAveraged',
    severity: 'note',
    place: 'file',
    details: { rows: 'rows read', plots: 'plots made of them' },
    means: 'Rows of one treatment and block were averaged into one plot.',
  },
  {
    code: 'subsamplesSkipped',
    severity: 'note',
    place: 'column',
    details: { count: 'blank sub-samples left out of their plot’s average' },
    means: 'Blank sub-samples were left out of the averages.',
  },
] as const satisfies readonly IntakeProblemCodeEntry[];
