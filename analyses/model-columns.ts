import { compensatedMean } from './compensated-sum.ts';
import { largestMagnitude } from './largest-magnitude.ts';
import type { FactorTerm, InteractionTerm, ModelTerm } from './model-terms.ts';

/**
 * Columns of one term. Factors are coded so that effects sum to zero over levels (each level but the last has a
 * column of its own, the last is -1 in all), so that a weight of zero means "averaged equally over the levels".
 * Covariates are taken about their mean and scaled to at most 1.
 */
export function columnsOfTerm(term: ModelTerm, terms: readonly ModelTerm[]): number[][] {
  if (term.kind === 'factor') return factorColumns(term);
  if (term.kind === 'covariate') return [covariateColumn(term.valueOfPlot)];
  if (term.kind === 'covariates') return term.valuesOfPlot.map(covariateColumn);
  const [first, second] = crossedFactors(term, terms);
  return factorColumns(first).flatMap((a) => factorColumns(second).map((b) => a.map((x, i) => x * b[i]!)));
}

/** The coding of one level: the weights of the factor's columns. */
export function levelCoding(level: number, levelCount: number): number[] {
  const coding = new Array<number>(levelCount - 1).fill(level === levelCount - 1 ? -1 : 0);
  if (level < levelCount - 1) coding[level] = 1;
  return coding;
}

/** The two factors of an interaction. Throws when one is missing: a programmer's mistake. */
export function crossedFactors(
  term: InteractionTerm,
  terms: readonly ModelTerm[],
): readonly [FactorTerm, FactorTerm] {
  return [factorById(term.factors[0], term, terms), factorById(term.factors[1], term, terms)];
}

function factorById(id: string, of: InteractionTerm, terms: readonly ModelTerm[]): FactorTerm {
  const found = terms.find((term) => term.id === id);
  if (found?.kind !== 'factor')
    throw new RangeError(
      `interaction ${of.id}: expected a factor ${id} in the model, got ${found?.kind ?? 'none'}`,
    );
  return found;
}

function factorColumns(term: FactorTerm): number[][] {
  const codings = Array.from({ length: term.levelCount }, (_, level) => levelCoding(level, term.levelCount));
  return Array.from({ length: term.levelCount - 1 }, (_, column) =>
    term.levelOfPlot.map((level) => codings[level]![column]!),
  );
}

function covariateColumn(valueOfPlot: readonly number[]): number[] {
  const mean = compensatedMean(valueOfPlot);
  const centred = valueOfPlot.map((value) => value - mean);
  const largest = largestMagnitude(centred);
  return largest === 0 ? centred : centred.map((value) => value / largest);
}
