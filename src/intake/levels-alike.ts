import type { Problem, ProblemPlace } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';

/** Names that differ only in capitals, spaces or punctuation are probably one, but that is for the user to say. */
export function levelsAlike(levels: Iterable<string>, place: ProblemPlace): Problem[] {
  const first = new Map<string, string>();
  const problems: Problem[] = [];
  for (const level of new Set(levels)) {
    const folded = level.toLowerCase().replace(/[^\p{L}\p{N}.,+%]/gu, '');
    const before = first.get(folded);
    if (before === undefined) first.set(folded, level);
    else problems.push(intakeProblem('levelsAlike', place, { a: before, b: level }));
  }
  return problems;
}
