/**
 * What was understood of a table's headings, for a screen to show and a user to change. Roles name quantities,
 * never a maker's columns.
 */
export const COLUMN_ROLES = [
  'longitude',
  'latitude',
  'yield',
  'massFlow',
  'mass',
  'moisture',
  'speed',
  'distance',
  'width',
  'heading',
  'time',
  'headerState',
  'machine',
  'operator',
  'day',
  'strip',
  'treatment',
  'block',
  'weight',
  'length',
  'area',
  'response',
  'appliedRate',
  'appliedFlow',
  'product',
  'sprayState',
] as const;

export type ColumnRole = (typeof COLUMN_ROLES)[number];

export interface RecognisedColumn {
  readonly role: ColumnRole;
  readonly heading: string;
  readonly columnIndex: number;
  /** Unit as it stood in the file or as chosen by the user; null: none stood there. */
  readonly unit: string | null;
  /** What the column is read as, e.g. 't/ha', 'bu/ac', 'm/s'; null for text. */
  readonly readAs: string | null;
  readonly chosenByUser: boolean;
  /** How the reading came about where it was not plain, e.g. a unit taken for granted; null where it was plain. */
  readonly assumption: string | null;
}

/** Two or more equally good candidates: nothing is guessed, the user is asked. */
export interface ColumnQuestion {
  readonly role: ColumnRole;
  readonly candidates: readonly string[];
}

export interface Recognition {
  readonly columns: readonly RecognisedColumn[];
  readonly questions: readonly ColumnQuestion[];
  readonly unusedHeadings: readonly string[];
  readonly headings: readonly string[];
  readonly separator: string;
  readonly decimalMark: '.' | ',';
}
