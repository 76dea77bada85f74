import { crossedFactors } from './model-columns.ts';
import type { FactorTerm, ModelTerm } from './model-terms.ts';

/**
 * Throws a RangeError, giving got and expected, when terms are not what {@link ModelTerm} says: lengths that differ
 * from the number of plots, a level outside its count or on no plot, an id that occurs twice, an unknown factor.
 */
export function requireWellFormedTerms(plots: number, terms: readonly ModelTerm[]): void {
  if (terms.length === 0) throw new RangeError('model: expected at least one term, got none');
  const ids = new Set(terms.map((term) => term.id));
  if (ids.size < terms.length)
    throw new RangeError(`model: term ids must differ, got ${terms.map((t) => t.id)}`);
  for (const term of terms) {
    if (term.kind === 'interaction') {
      crossedFactors(term, terms);
      continue;
    }
    const stray = valuesOf(term).find(({ length }) => length !== plots);
    if (stray !== undefined)
      throw new RangeError(`term ${term.id}: expected ${plots} plots, got ${stray.length}`);
    if (term.kind === 'factor') requireLevels(term);
  }
}

function valuesOf(term: Exclude<ModelTerm, { kind: 'interaction' }>): readonly (readonly number[])[] {
  if (term.kind === 'covariates') return term.valuesOfPlot;
  return [term.kind === 'factor' ? term.levelOfPlot : term.valueOfPlot];
}

function requireLevels(term: FactorTerm): void {
  const stray = term.levelOfPlot.find(
    (level) => !(Number.isInteger(level) && level >= 0 && level < term.levelCount),
  );
  if (stray !== undefined)
    throw new RangeError(`term ${term.id}: expected levels 0 to ${term.levelCount - 1}, got ${stray}`);
  const seen = new Set(term.levelOfPlot);
  if (seen.size < term.levelCount)
    throw new RangeError(`term ${term.id}: expected ${term.levelCount} levels on plots, got ${seen.size}`);
}
