import { alphaRefusal } from './alpha.ts';
import { dunnettDistribution } from './distributions/dunnett-distribution.ts';
import { fUpperQuantile } from './distributions/f.ts';
import { studentizedRange } from './distributions/studentized-range.ts';
import { tUpperQuantile } from './distributions/t.ts';
import { type Refusal, refuse } from './refusal.ts';

/** Chances that LSD at alpha calls at least one difference real where the treatments compared are all alike. */
export interface FalseRealChance {
  readonly alpha: number;
  readonly treatments: number;
  readonly errorDf: number;
  /** All pairs, LSD alone. */
  readonly unprotected: number;
  /**
   * All pairs, LSD only after a significant F. Exactly alpha where no F can be significant without a pair beyond LSD
   * (`protectedIsExact`), else at most alpha.
   */
  readonly protectedByF: number;
  readonly protectedIsExact: boolean;
  /**
   * LSD after a significant F when one treatment truly differs by so much that F is always significant: among the others
   * F then guards nothing. Null with two treatments, where no like pair is left.
   */
  readonly protectedOneDiffers: number | null;
  /** Only the comparisons of each treatment with one check, LSD alone. */
  readonly againstCheck: number;
}

/**
 * How often Fisher's LSD finds a difference that is not there.
 *
 * Definition: equal replication in an orthogonal trial, independent normal errors. All pairs are judged by the largest
 * difference, so the chance is the studentized range's tail at sqrt(2) t; against one check it is the tail of
 * Dunnett's two-sided distribution at t (exact, not Bonferroni's bound).
 *
 * @param treatments - whole number; fewer than 2 is the refusal `tooFewTreatments`
 * @param errorDf - whole number; below 1 is the refusal `noErrorDf`
 * @param alpha - of each comparison, 0 < alpha <= 0.5; else the refusal `alphaOutOfRange`
 * Sources: studentized range, Harter (1960); check, Dunnett (1955); the effect on protected LSD, A. J. Hayter (1986)
 * J. Am. Stat. Assoc. 81:1000-1004.
 * @example falseRealChance(4, 9, 0.05) // unprotected 0.18
 */
export function falseRealChance(
  treatments: number,
  errorDf: number,
  alpha: number,
): FalseRealChance | Refusal {
  if (!(Number.isInteger(treatments) && Number.isInteger(errorDf)))
    throw new RangeError(`falseRealChance: expected whole numbers, got ${treatments} and ${errorDf}`);
  if (treatments < 2) return refuse('tooFewTreatments', { levels: treatments });
  if (errorDf < 1) return refuse('noErrorDf');
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const t = tUpperQuantile(alpha / 2, errorDf);
  const anyPairOf = (groups: number) => studentizedRange(groups, errorDf).upperTail(Math.SQRT2 * t);
  return {
    alpha,
    treatments,
    errorDf,
    unprotected: anyPairOf(treatments),
    protectedByF: alpha,
    protectedIsExact: significantFImpliesAPair(treatments, errorDf, alpha, t),
    protectedOneDiffers: treatments === 2 ? null : anyPairOf(treatments - 1),
    againstCheck: dunnettDistribution(new Array(treatments - 1).fill(Math.SQRT1_2), errorDf, 'two').upperTail(
      t,
    ),
  };
}

/**
 * For means of a given range R the treatment sum of squares is largest with half of them at either end:
 * n floor(g/2) ceil(g/2) / g R^2. A significant F thus needs R^2 >= (g - 1) F s^2 g / (n floor ceil), to be compared with
 * LSD^2 = 2 t^2 s^2 / n.
 */
function significantFImpliesAPair(groups: number, errorDf: number, alpha: number, t: number): boolean {
  const half = Math.floor(groups / 2) * Math.ceil(groups / 2);
  const leastRangeSquared = ((groups - 1) * groups * fUpperQuantile(alpha, groups - 1, errorDf)) / half;
  return leastRangeSquared >= 2 * t * t * (1 - 1e-9);
}
