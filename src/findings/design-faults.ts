import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What the asked-for design needs of strips and treatments and does not find; then nothing is analysed. */
export function designFaults(trial: TrialDocument): readonly Problem[] {
  return [...squareFaults(trial), ...factorFaults(trial)];
}

function squareFaults({ strips, inference }: TrialDocument): Problem[] {
  if (!inference.square) return [];
  return strips
    .filter(({ row, column }) => !row || !column)
    .map(({ id }) => problem('error', 'stripOutsideSquare', {}, { strip: id }));
}

function factorFaults({ strips, treatments, inference }: TrialDocument): Problem[] {
  const { factors } = inference;
  if (!factors) return [];
  const laidOut = new Set(strips.map(({ treatment }) => treatment));
  const seen = new Map<string, string>();
  return treatments
    .filter(({ id }) => laidOut.has(id))
    .flatMap(({ name, factorLevels }) => {
      const { first, second } = factors;
      if (!factorLevels)
        return [problem('error', 'treatmentWithoutLevels', {}, { treatment: name, first, second })];
      const key = JSON.stringify(factorLevels);
      const other = seen.get(key);
      seen.set(key, name);
      return other === undefined
        ? []
        : [problem('error', 'levelsGivenTwice', {}, { treatment: name, other })];
    });
}
