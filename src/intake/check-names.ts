import type { Problem } from '../trial/problem.ts';
import type { Treatment } from '../trial/trial-document.ts';
import { intakeProblem } from './problem-codes.ts';

/** How people name the treatment that got nothing, or the farm's usual, in a few languages. */
const CHECK_WORDS = new Set([
  ...[
    'untreated',
    'check',
    'control',
    'utc',
    'ck',
    'uncontrolled',
    'nil',
    'none',
    'unsprayed',
    'ctrl',
    'ctl',
  ],
  ...['unbehandelt', 'kontrolle', 'temoin', 'testigo', 'testemunha', 'testimone', 'testimonio', 'kontrola'],
]);

/**
 * Treatments in order of appearance; the one named like a check is taken as the check, if it is the only one.
 */
export function treatmentsWithCheck(
  names: readonly string[],
  file: string,
  problems: Problem[],
): Treatment[] {
  const distinct = [...new Set(names)];
  const checks = distinct.filter(isNamedLikeCheck);
  const [only, second] = checks;
  if (only !== undefined && second === undefined) {
    problems.push(intakeProblem('checkFoundByName', { file }, { treatment: only }));
  }
  if (second !== undefined)
    problems.push(intakeProblem('severalCheckNames', { file }, { treatments: checks }));
  return distinct.map((name) => ({
    id: name,
    name,
    isCheck: checks.length === 1 && name === only,
    costPerHa: null,
    applicationCostPerHa: null,
  }));
}

export function isNamedLikeCheck(name: string): boolean {
  const words = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^\p{L}]+/u);
  return words.some((word) => CHECK_WORDS.has(word));
}
