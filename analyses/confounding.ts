import { orthogonalBasis } from './householder.ts';
import { columnsOfTerm, crossedFactors } from './model-columns.ts';
import type { InteractionTerm, ModelTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';

/**
 * Which terms of a model cannot be told apart, given that some cannot: its columns are dependent.
 *
 * A term is confounded when part of it lies in the span of the others (treatments that never share a block with the
 * rest, a covariate constant within treatments). Refused as
 * - `tooFewPlots` {plots, parameters}: more effects than plots;
 * - `emptyCell` {term, levelOfFirst, levelOfSecond}: an interaction with a combination on no plot;
 * - `confoundedTerms` {term, with, df, estimableDf}: the first such term, and the others it cannot be told from
 *   (a single one where one suffices, else all of them, joined by ", "; empty for a covariate that does not vary).
 */
export function confoundingRefusal(plots: number, terms: readonly ModelTerm[]): Refusal {
  const ones = new Array<number>(plots).fill(1);
  const columns = terms.map((term) => columnsOfTerm(term, terms));
  const empty = firstEmptyCell(terms);
  if (empty !== null) return empty;
  for (const [index, term] of terms.entries()) {
    const others = columns.flatMap((own, other) => (other === index ? [] : own));
    const lost = dfLost([ones, ...others], columns[index]!);
    if (lost === 0) continue;
    const df = columns[index]!.length;
    if (dfLost([ones], columns[index]!) > 0)
      return refuse('confoundedTerms', { term: term.id, with: '', df, estimableDf: df - lost });
    const culprit = terms.filter(
      (_, o) => o !== index && dfLost([ones, ...columns[o]!], columns[index]!) > 0,
    );
    if (culprit.length === 0 && columns.flat().length >= plots)
      return refuse('tooFewPlots', { plots, parameters: columns.flat().length + 1 });
    const partners = culprit.length > 0 ? culprit : terms.filter((other) => other !== term);
    return refuse('confoundedTerms', {
      term: term.id,
      with: partners.map((other) => other.id).join(', '),
      df,
      estimableDf: df - lost,
    });
  }
  return refuse('tooFewPlots', { plots, parameters: columns.flat().length + 1 });
}

function dfLost(before: readonly (readonly number[])[], own: readonly (readonly number[])[]): number {
  return orthogonalBasis([...before, ...own]).dependent.filter((place) => place >= before.length).length;
}

function firstEmptyCell(terms: readonly ModelTerm[]): Refusal | null {
  for (const term of terms) {
    const empty = term.kind === 'interaction' ? emptyCellOf(term, terms) : null;
    if (empty !== null) return empty;
  }
  return null;
}

function emptyCellOf(term: InteractionTerm, terms: readonly ModelTerm[]): Refusal | null {
  const [first, second] = crossedFactors(term, terms);
  const seen = new Set(
    first.levelOfPlot.map((level, i) => level * second.levelCount + second.levelOfPlot[i]!),
  );
  for (let cell = 0; cell < first.levelCount * second.levelCount; cell++) {
    if (seen.has(cell)) continue;
    const levelOfFirst = Math.floor(cell / second.levelCount);
    return refuse('emptyCell', { term: term.id, levelOfFirst, levelOfSecond: cell % second.levelCount });
  }
  return null;
}
