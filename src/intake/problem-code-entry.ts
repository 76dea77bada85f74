import type { ProblemSeverity } from '../trial/problem.ts';

/**
 * Every problem that intake can name, with the keys of its `details`. Sentences are made in `src/words/`.
 * `place` says which of row and column the problem carries besides the file. Lists in details are text. Counts
 * (`count`) include the example that `row` points at. `features` are numbered from 1 in file order.
 */
export interface IntakeProblemCodeEntry {
  readonly code: string;
  readonly severity: ProblemSeverity;
  readonly place: 'file' | 'row' | 'column' | 'cell';
  /** What each key of `details` holds. */
  readonly details: Readonly<Record<string, string>>;
  readonly means: string;
}
