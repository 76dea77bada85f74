import type { DecidingProcedure, Inference } from '../trial/trial-document.ts';

/** One strip or plot as the analysis sees it; indices into the treatments and blocks of its response. */
export interface Plot {
  readonly treatment: number;
  /** null: in no block. */
  readonly block: number | null;
  /** value - origin, in the unit in which people read it; null: lost or not measured. */
  readonly deviation: number | null;
  /** Across the field, counted from one edge; null or absent: not known. */
  readonly place?: number | null;
  /** What the strip or row is called; null or absent: nothing. */
  readonly label?: string | null;
}

/** One response over all strips of a trial. Names are those that people read; each occurs once. */
export interface ResponsePlots {
  readonly name: string;
  readonly unit: string | null;
  readonly better: 'higher' | 'lower';
  readonly treatments: readonly string[];
  /** null: the trial has no blocks. */
  readonly blocks: readonly string[] | null;
  /** Taken off every value beforehand, so that a large constant costs no digits; 0 for values computed here. */
  readonly origin: number;
  readonly plots: readonly Plot[];
}

/** How differences are to be judged; pairs and check are indices into the treatments. */
export interface Judging {
  readonly alpha: number;
  readonly decidedBy: DecidingProcedure;
  readonly comparisons: Inference['comparisons'];
  readonly namedPairs: readonly (readonly [a: number, b: number])[];
  readonly check: number | null;
  /** In the response's unit; null: none was set. */
  readonly margin: number | null;
}

/** What a comparison needs to be turned into money, in the response's unit and per unit of land. */
export type MoneyTerms =
  | {
      readonly known: true;
      readonly breakEven: number;
      readonly extraCost: number;
      /** Money per unit of land for one unit of the response. */
      readonly pricePerUnit: number;
      readonly moneyUnit: string;
    }
  | { readonly known: false; readonly missing: readonly string[]; readonly moneyUnit: string };

/** What the trial around a response adds to its answers. */
export interface Surroundings {
  /** The user's own headings, where a table has them. */
  readonly treatmentHeading: string | null;
  readonly blockHeading: string | null;
  /** Sentences that weaken every answer of this response. */
  readonly weakens: readonly string[];
  /** By treatment: mean share of points that screens set aside; null where there are no points. */
  readonly setAsideShares: readonly (number | null)[];
  /** null where this response says nothing about money; `whyNoMoney` then says why. */
  readonly money: ((a: number, b: number) => MoneyTerms) | null;
  readonly whyNoMoney: string;
}
