import { type OrthogonalBasis, orthogonalBasis } from './householder.ts';
import { columnsOfTerm } from './model-columns.ts';
import type { ModelTerm } from './model-terms.ts';
import { recentlyUsed } from './recently-used.ts';

/** What a model owes to its design alone, whatever was measured on the plots. */
export interface DesignBasis {
  /** Of each term. */
  readonly columns: readonly (readonly number[][])[];
  /** Of the constant and all terms' columns, in their order. */
  readonly basis: OrthogonalBasis;
  /** A term's own directions, within the coordinates along `basis`. */
  readonly ownDirections: (term: number) => OwnDirections;
}

/** Those of the terms that a term is adjusted for come first, then its own `count` from `first` on. */
export interface OwnDirections {
  /** null: the basis of the whole model has them in this order already. */
  readonly basis: OrthogonalBasis | null;
  readonly first: number;
  readonly count: number;
}

/**
 * The basis of a model. Trial after trial is analysed on one design (several responses, one block left out, one
 * cleaning after another), so the last few are kept, by what their terms say of the plots.
 *
 * @param plots - n; every term has a level or value on each
 */
export function designBasis(plots: number, terms: readonly ModelTerm[]): DesignBasis {
  return kept(`${plots} ${terms.map(said).join(' ')}`, () => basisOf(plots, terms));
}

const kept = recentlyUsed<DesignBasis>(16);

function said(term: ModelTerm): string {
  if (term.kind === 'interaction' || term.kind === 'covariates') return JSON.stringify(term);
  const byPlot = term.kind === 'factor' ? term.levelOfPlot : term.valueOfPlot;
  return `${term.kind} ${JSON.stringify(term.id)} ${byPlot.join(',')}`;
}

function basisOf(plots: number, terms: readonly ModelTerm[]): DesignBasis {
  const columns = terms.map((term) => columnsOfTerm(term, terms));
  const basis = orthogonalBasis([new Float64Array(plots).fill(1), ...columns.flat()]);
  const known = new Map<number, OwnDirections>();
  return {
    columns,
    basis,
    ownDirections: (term) => {
      const own = known.get(term) ?? directionsOf(term, terms, columns, basis);
      known.set(term, own);
      return own;
    },
  };
}

/** The triangle of the whole model stands for the columns, since all of it lies in the model's space. */
function directionsOf(
  index: number,
  terms: readonly ModelTerm[],
  columns: DesignBasis['columns'],
  basis: OrthogonalBasis,
): OwnDirections {
  const size = basis.triangle.length;
  const starts = startsOf(columns);
  const before = terms.flatMap((other, at) =>
    at === index || contains(other, terms[index]!) ? [] : placesOf(starts, at),
  );
  const own = placesOf(starts, index);
  const [first, count] = [1 + before.length, own.length];
  // The last term comes last in the triangle already, unless one that is not to come before it does.
  if (index === terms.length - 1 && first + count === size) return { basis: null, first, count };
  const column = (place: number) => padded(basis.triangle[place]!, size);
  return { basis: orthogonalBasis([0, ...before, ...own].map(column)), first, count };
}

/** Place of each term's first column, after the constant; one more for the end. */
function startsOf(columns: DesignBasis['columns']): number[] {
  const starts = [1];
  for (const own of columns) starts.push(starts.at(-1)! + own.length);
  return starts;
}

function placesOf(starts: readonly number[], term: number): number[] {
  return Array.from({ length: starts[term + 1]! - starts[term]! }, (_, i) => starts[term]! + i);
}

function padded(column: readonly number[], size: number): Float64Array {
  const whole = new Float64Array(size);
  whole.set(column);
  return whole;
}

function contains(other: ModelTerm, term: ModelTerm): boolean {
  return other.kind === 'interaction' && other.factors.includes(term.id);
}
