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
  /** Of a Latin square; indices into the model's rows and columns. */
  readonly row?: number;
  readonly column?: number;
  /** Of two factors; indices into the model's factors. */
  readonly factorA?: number;
  readonly factorB?: number;
  /** null: not measured. */
  readonly covariate?: number | null;
  /** Index into the model's machines; null: not known, or several. */
  readonly machine?: number | null;
}

/** A classification of the plots: its heading and its levels as people read them. */
export interface Levels {
  readonly heading: string;
  readonly names: readonly string[];
}

/** What the analysis takes into account beside treatments and blocks. */
export interface PlotModel {
  /** Both, for a Latin square; null otherwise. */
  readonly square: { readonly rows: Levels; readonly columns: Levels } | null;
  /** Treatments are the combinations of two factors; `split`: the first lies on main plots. */
  readonly factors: { readonly a: Levels; readonly b: Levels; readonly split: boolean } | null;
  /** Heading of the covariate. */
  readonly covariate: string | null;
  /** What harvested the strips, as a classification beside the blocks. */
  readonly machine: Levels | null;
  readonly trend: { readonly heading: string; readonly shape: TrendShape } | null;
  readonly scale: Scale | null;
}

export type TrendShape = 'linear' | 'quadratic';
export type Scale = 'squareRoot' | 'log' | 'angular';

export const PLAIN_MODEL: PlotModel = {
  square: null,
  factors: null,
  covariate: null,
  machine: null,
  trend: null,
  scale: null,
};

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
  /** Absent: treatments, and blocks where there are some. */
  readonly model?: PlotModel;
  /** Contrasts named by the user: a weight for each treatment, adding up to zero. */
  readonly contrasts?: readonly (readonly number[])[];
  /** Treatments are rates, named by their number. */
  readonly followsRate?: boolean;
}

/** Nothing but treatments and blocks: arrangements are shuffles within blocks, and pairs stand for themselves. */
export function isPlain({ model }: ResponsePlots): boolean {
  if (!model) return true;
  const { square, covariate, machine, trend } = model;
  return square === null && covariate === null && machine === null && trend === null;
}

/** How differences are to be judged; pairs and check are indices into the treatments. */
export interface Judging {
  readonly alpha: number;
  readonly decidedBy: DecidingProcedure;
  readonly comparisons: Inference['comparisons'];
  readonly namedPairs: readonly (readonly [a: number, b: number])[];
  readonly check: number | null;
  /** A level of one of two factors, where the check is none of the combinations; absent: none. */
  readonly checkLevel?: string | null;
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
      /** On logarithms, where differences are ratios: the mean of b that they are held against; else absent. */
      readonly ratioOf?: { readonly mean: number; readonly neededRatio: number };
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
