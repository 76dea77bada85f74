import gammaln from '@stdlib/math-base-special-gammaln';
import { alphaRefusal } from './alpha.ts';
import { dunnettDistribution } from './distributions/dunnett-distribution.ts';
import { fUpperQuantile } from './distributions/f.ts';
import { increasingRoot } from './distributions/increasing-root.ts';
import { studentizedRangeUpperQuantile } from './distributions/studentized-range.ts';
import { tUpperQuantile } from './distributions/t.ts';
import { fewestEnough } from './fewest-enough.ts';
import { powerOfF } from './power-of-f.ts';
import { powerBeyondCriticalT } from './power-two-sided-t.ts';
import { type Refusal, refuse } from './refusal.ts';

/**
 * How a difference will be judged: each pair alone (LSD), among all pairs (Tukey), against one check (Dunnett, two-sided),
 * or by the F test of all treatments together.
 */
export type PlannedTest = 'pairAlone' | 'allPairs' | 'againstCheck' | 'overallF';

export interface PlannedBlocks {
  readonly test: PlannedTest;
  /** Whole, the check among them. */
  readonly treatments: number;
  /** Strips of the check in each block, for `againstCheck`; one where not said. */
  readonly checkStrips?: number;
  /** Coefficient of variation of strips, percent of the mean. */
  readonly cvPercent: number;
  /** Of the family, or of the pair alone; 0 < alpha <= 0.5. */
  readonly alpha: number;
}

export interface PowerOfPlan {
  readonly blocks: number;
  readonly errorDf: number;
  /** |t| (or F) must exceed this. */
  readonly criticalValue: number;
  /** Chance that a given pair so far apart is found; for F that any difference is, at its least. */
  readonly power: number;
  /** Mean width of the interval of a difference, percent of the mean; null for F, which has none. */
  readonly expectedWidthPercent: number | null;
}

/**
 * The chance that a plan in complete blocks finds a true difference between two treatments (or one and the check).
 *
 * Error df (treatments - 1)(blocks - 1), with repeated checks that and blocks (checkStrips - 1) more; standard error
 * cv sqrt(1/n1 + 1/n2). Exact: noncentral t beyond the procedure's own critical value; for F the smallest power that any
 * true means with that difference have. Width: 2 critical value * standard error * mean of s / sigma.
 *
 * @param differencePercent - true difference, percent of the mean, > 0
 * @param blocks - whole, at least 2
 * @returns the power, or the refusal `tooFewTreatments` {levels} or `alphaOutOfRange`
 * @throws RangeError for blocks, check strips, CV or difference outside these bounds
 * Sources: noncentral t and F; J. W. Tukey's and C. W. Dunnett's critical values (see `distributions/`); mean of s, N. L.
 * Johnson, S. Kotz & N. Balakrishnan (1994) Continuous Univariate Distributions vol. 1, ch. 18.
 * @example powerOfPlan({ test: 'allPairs', treatments: 4, cvPercent: 5, alpha: 0.05 }, 10, 4) // power 0.436
 */
export function powerOfPlan(
  plan: PlannedBlocks,
  differencePercent: number,
  blocks: number,
): PowerOfPlan | Refusal {
  requirePositive('differencePercent', differencePercent);
  return unfit(plan) ?? powerIn(layoutOf(plan, blocks), plan, differencePercent);
}

/** The true difference, percent of the mean, that the plan finds with this power; arguments as in {@link powerOfPlan}. */
export function detectableByPlan(plan: PlannedBlocks, power: number, blocks: number): number | Refusal {
  requirePower(power, plan.alpha);
  const refused = unfit(plan);
  if (refused !== null) return refused;
  const layout = layoutOf(plan, blocks);
  const inSe = increasingRoot((shift) => powerAt(layout, plan, shift) - power, 1, 4);
  return inSe * layout.standardErrorPercent;
}

/**
 * The fewest blocks in which the plan finds the difference with this power.
 *
 * @param power - wanted, alpha < power < 1
 * @param mostBlocks - where to stop, at least 2
 * @returns what the plan does in that many blocks, or null when `mostBlocks` are not enough; refusals as in
 * {@link powerOfPlan}
 */
export function fewestBlocks(
  plan: PlannedBlocks,
  differencePercent: number,
  power: number,
  mostBlocks = 1000,
): PowerOfPlan | null | Refusal {
  requirePositive('differencePercent', differencePercent);
  requirePower(power, plan.alpha);
  const refused = unfit(plan);
  if (refused !== null) return refused;
  const enough = (blocks: number) => powerIn(layoutOf(plan, blocks), plan, differencePercent).power >= power;
  const blocks = fewestEnough(enough, 2, mostBlocks);
  return blocks === null ? null : powerIn(layoutOf(plan, blocks), plan, differencePercent);
}

interface Layout {
  readonly blocks: number;
  readonly errorDf: number;
  readonly standardErrorPercent: number;
  readonly criticalValue: number;
}

function layoutOf(plan: PlannedBlocks, blocks: number): Layout {
  const { treatments, cvPercent } = plan;
  if (!(Number.isInteger(blocks) && blocks >= 2))
    throw new RangeError(`blocks: expected a whole number of at least 2, got ${blocks}`);
  const checks = checkStripsOf(plan);
  const errorDf = (treatments - 1) * (blocks - 1) + blocks * (checks - 1);
  const standardErrorPercent = cvPercent * Math.sqrt((1 + 1 / checks) / blocks);
  const criticalValue = criticalValueOf(plan, errorDf);
  return { blocks, errorDf, standardErrorPercent, criticalValue };
}

function criticalValueOf(plan: PlannedBlocks, errorDf: number): number {
  const { test, treatments, alpha } = plan;
  if (test === 'pairAlone') return tUpperQuantile(alpha / 2, errorDf);
  if (test === 'allPairs') return studentizedRangeUpperQuantile(alpha, treatments, errorDf) / Math.SQRT2;
  if (test === 'overallF') return fUpperQuantile(alpha, treatments - 1, errorDf);
  const loading = Math.sqrt(1 / (1 + checkStripsOf(plan)));
  return dunnettDistribution(new Array(treatments - 1).fill(loading), errorDf, 'two').upperQuantile(alpha);
}

function powerIn(layout: Layout, plan: PlannedBlocks, differencePercent: number): PowerOfPlan {
  const { blocks, errorDf, criticalValue, standardErrorPercent } = layout;
  const power = powerAt(layout, plan, differencePercent / standardErrorPercent);
  const width = 2 * criticalValue * standardErrorPercent * meanOfSd(errorDf);
  return {
    blocks,
    errorDf,
    criticalValue,
    power,
    expectedWidthPercent: plan.test === 'overallF' ? null : width,
  };
}

/** Chance of finding a difference of this many of its standard errors. */
function powerAt(layout: Layout, plan: PlannedBlocks, shift: number): number {
  const { errorDf, criticalValue } = layout;
  if (plan.test !== 'overallF') return powerBeyondCriticalT(shift, errorDf, criticalValue);
  // F is least likely to see a difference when all other treatments lie midway: then its noncentrality is
  // blocks * (difference / sd)^2 / 2, the square of the difference in standard errors.
  return powerOfF(shift ** 2, plan.treatments - 1, errorDf, plan.alpha);
}

/** Mean of s / sigma: sqrt(2 / df) Gamma((df + 1) / 2) / Gamma(df / 2). */
function meanOfSd(df: number): number {
  return Math.sqrt(2 / df) * Math.exp(gammaln((df + 1) / 2) - gammaln(df / 2));
}

function checkStripsOf(plan: PlannedBlocks): number {
  return plan.test === 'againstCheck' ? (plan.checkStrips ?? 1) : 1;
}

function unfit(plan: PlannedBlocks): Refusal | null {
  const { treatments, cvPercent, checkStrips } = plan;
  if (!(Number.isInteger(treatments) && Number.isInteger(checkStrips ?? 1) && (checkStrips ?? 1) >= 1))
    throw new RangeError(
      `plan: expected whole numbers of treatments and check strips, got ${treatments} and ${checkStrips}`,
    );
  if ((checkStrips ?? 1) > 1 && plan.test !== 'againstCheck')
    throw new RangeError(`plan: expected repeated checks for againstCheck alone, got ${plan.test}`);
  requirePositive('cvPercent', cvPercent);
  if (treatments < 2) return refuse('tooFewTreatments', { levels: treatments });
  return alphaRefusal(plan.alpha);
}

function requirePower(power: number, alpha: number): void {
  if (!(power > alpha && power < 1))
    throw new RangeError(`power: expected more than alpha ${alpha} and less than 1, got ${power}`);
}

function requirePositive(name: string, value: number): void {
  if (!(value > 0 && value < Infinity))
    throw new RangeError(`${name}: expected a positive number, got ${value}`);
}
