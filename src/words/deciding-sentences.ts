import { levelText, percentOf } from './number-formats.ts';

/** What the sentence on the deciding procedure needs to know. */
export interface Deciding {
  readonly procedure: string;
  readonly comparisons: number;
  readonly treatments: number;
  readonly alpha: number;
  readonly chosen: boolean;
  /** For the protected LSD: whether F was significant. */
  readonly significantF: boolean | null;
}

/** Why this procedure decides, in one sentence. */
export function whyDecides(d: Deciding): string {
  const by = d.chosen ? 'As chosen' : 'Follows from the comparisons';
  return `${by}: ${reason(d)}.`;
}

function reason(d: Deciding): string {
  const level = levelText(d.alpha);
  switch (d.procedure) {
    case 't':
      return d.comparisons === 1
        ? `one comparison is judged by its own t at level ${level}`
        : `each of ${d.comparisons} comparisons is judged by its own t at level ${level}, without guard for their number`;
    case 'bonferroni':
      return `${d.comparisons} comparison(s), each judged at ${levelText(d.alpha / d.comparisons)}, so that the chance of any false Real is at most ${level}`;
    case 'holm':
      return `${d.comparisons} comparison(s), the smallest p judged most strictly, so that the chance of any false Real is at most ${level}; intervals are Bonferroni's`;
    case 'dunnett':
      return `${d.comparisons} treatment(s) against one check, with the chance of any false Real held at ${level}`;
    case 'tukey':
      return `all pairs of ${d.treatments} treatments, with the chance of any false Real held at ${level}`;
    case 'protectedLsd':
      return protectedReason(d, level);
    default:
      return `each pair is judged alone at level ${level} by the LSD, so the chance of a false Real grows with the number of pairs`;
  }
}

function protectedReason(d: Deciding, level: string): string {
  return d.significantF === true
    ? `the F test is significant at ${level}, so each pair is judged alone by the LSD`
    : `the F test is not significant at ${level}, so no difference is called Real, whatever the LSD says`;
}

/** For the reasons of an answer where pairs are judged without guard for their number. */
export function chanceOfFalseReal(procedure: string, chance: number | null, comparisons: number): string {
  if (chance === null)
    return `With ${comparisons} comparisons judged one by one, the chance of at least one false Real is above the level; how far cannot be computed for these strips.`;
  return procedure === 'protectedLsd'
    ? `If one treatment truly differed and all others were equal, the chance of calling at least one of their differences Real would be ${percentOf(chance)}.`
    : `If all treatments were equal, the chance of calling at least one of the ${comparisons} differences Real would be ${percentOf(chance)}.`;
}
