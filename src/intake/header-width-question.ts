import type { Problem } from '../trial/problem.ts';
import type { HarvestPoints } from './harvest-data.ts';
import { intakeProblem } from './problem-codes.ts';

/** Asked once for all files of a trial: how wide was the header, where neither file nor settings say. */
export function headerWidthQuestion(
  files: readonly Pick<HarvestPoints, 'file' | 'widthM'>[],
  headerWidthM: number | null,
): Problem[] {
  if (headerWidthM !== null) return [];
  const without = files.filter(({ widthM }) => widthM === null || widthM.every(Number.isNaN));
  const [first] = without;
  if (first === undefined) return [];
  return [intakeProblem('askHeaderWidth', { file: first.file }, { files: without.map(({ file }) => file) })];
}
