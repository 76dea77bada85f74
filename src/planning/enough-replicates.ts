import { increasingRoot } from '../../analyses/distributions/increasing-root.ts';
import { fewestEnough } from '../../analyses/fewest-enough.ts';
import { powerBeyondCriticalT } from '../../analyses/power-two-sided-t.ts';
import { criticalT, type GuardedPlan } from './critical-t.ts';
import { meanShareOfDeviation } from './mean-share-of-deviation.ts';

/** A trial as it is meant to be laid out, and what it should be able to find. */
export interface ReplicatePlan extends GuardedPlan {
  /** Each holds every treatment once; without blocks, strips of each treatment. Whole, at least 1. */
  readonly blocks: number;
  readonly design: 'randomizedCompleteBlocks' | 'completelyRandomized';
  /** Expected CV of strips, percent of the mean. */
  readonly cvPercent: number;
  /** A true difference between two treatments that would be worth having, percent of the mean. */
  readonly differencePercent: number;
  /** Chance of finding it that is asked for; above alpha, below 1. */
  readonly power: number;
}

export interface DetectableAtBlocks {
  readonly blocks: number;
  readonly detectablePercent: number;
}

/** Whether a plan can answer. Percentages are of the trial's mean. */
export interface EnoughReplicates {
  readonly plan: ReplicatePlan;
  readonly verdict: 'enough' | 'notEnough' | 'hopeless';
  readonly errorDf: number;
  /** Chance that one true difference worth having is called real; null without error df. */
  readonly power: number | null;
  /** What the plan finds with the chance asked for; null without error df. */
  readonly detectablePercent: number | null;
  /** Mean half width of the interval about a difference; null without error df. */
  readonly halfWidthPercent: number | null;
  /** Fewest blocks that are enough; null where {@link MOST_BLOCKS} are not. */
  readonly blocksNeeded: number | null;
  /** For 2 to 12 blocks. */
  readonly curve: readonly DetectableAtBlocks[];
}

const CURVE_FROM = 2;
const CURVE_TO = 12;
export const MOST_BLOCKS = 200;
/** A plan that misses two times out of three what it is laid out for is called hopeless (our own judgement). */
export const HOPELESS_BELOW = 1 / 3;

/**
 * Are there enough replicates? The chance of finding one difference between two treatments, each pair judged as the
 * deciding procedure will judge it, so that guarding many comparisons is paid for here already.
 *
 * Error df: (treatments - 1)(blocks - 1) in complete blocks, treatments (blocks - 1) without blocks.
 *
 * @throws RangeError for a plan outside its bounds
 * Source of the powers: noncentral t at the procedure's own critical value, see `critical-t.ts`.
 */
export function enoughReplicates(plan: ReplicatePlan): EnoughReplicates {
  requireSound(plan);
  const errorDf = errorDfOf(plan, plan.blocks);
  const power = errorDf === 0 ? null : powerAt(plan, plan.blocks);
  return {
    plan,
    verdict: verdictOf(power, plan.power),
    errorDf,
    power,
    detectablePercent: errorDf === 0 ? null : detectableAt(plan, plan.blocks),
    halfWidthPercent: errorDf === 0 ? null : halfWidthAt(plan),
    blocksNeeded: fewestEnough((blocks) => powerAt(plan, blocks) >= plan.power, 2, MOST_BLOCKS),
    curve: Array.from({ length: CURVE_TO - CURVE_FROM + 1 }, (_, index) => {
      const blocks = CURVE_FROM + index;
      return { blocks, detectablePercent: detectableAt(plan, blocks) };
    }),
  };
}

function verdictOf(power: number | null, wanted: number): EnoughReplicates['verdict'] {
  if (power === null || power < HOPELESS_BELOW) return 'hopeless';
  return power >= wanted ? 'enough' : 'notEnough';
}

function powerAt(plan: ReplicatePlan, blocks: number): number {
  const errorDf = errorDfOf(plan, blocks);
  const shift = plan.differencePercent / trueStandardErrorPercent(plan, blocks);
  return powerBeyondCriticalT(shift, errorDf, criticalT(plan, errorDf));
}

function detectableAt(plan: ReplicatePlan, blocks: number): number {
  const errorDf = errorDfOf(plan, blocks);
  const critical = criticalT(plan, errorDf);
  const missing = (shift: number) => powerBeyondCriticalT(shift, errorDf, critical) - plan.power;
  return increasingRoot(missing, 1, 4) * trueStandardErrorPercent(plan, blocks);
}

function halfWidthAt(plan: ReplicatePlan): number {
  const errorDf = errorDfOf(plan, plan.blocks);
  const meanStandardError = trueStandardErrorPercent(plan, plan.blocks) * meanShareOfDeviation(errorDf);
  return criticalT(plan, errorDf) * meanStandardError;
}

/** Of a difference between two treatment means. */
function trueStandardErrorPercent({ cvPercent }: ReplicatePlan, blocks: number): number {
  return cvPercent * Math.sqrt(2 / blocks);
}

function errorDfOf({ treatments, design }: ReplicatePlan, blocks: number): number {
  return (design === 'completelyRandomized' ? treatments : treatments - 1) * (blocks - 1);
}

function requireSound({
  treatments,
  blocks,
  cvPercent,
  differencePercent,
  alpha,
  power,
}: ReplicatePlan): void {
  expectThat(
    Number.isInteger(treatments) && treatments >= 2,
    'treatments',
    'a whole number from 2',
    treatments,
  );
  expectThat(Number.isInteger(blocks) && blocks >= 1, 'blocks', 'a whole number from 1', blocks);
  expectThat(cvPercent > 0 && cvPercent < Infinity, 'cvPercent', 'a positive number', cvPercent);
  expectThat(
    differencePercent > 0 && differencePercent < Infinity,
    'differencePercent',
    'a positive number',
    differencePercent,
  );
  expectThat(alpha > 0 && alpha <= 0.5, 'alpha', 'a number in (0, 0.5]', alpha);
  expectThat(power > alpha && power < 1, 'power', `more than alpha ${alpha} and less than 1`, power);
}

function expectThat(isMet: boolean, name: string, expected: string, got: number): void {
  if (!isMet) throw new RangeError(`${name}: expected ${expected}, got ${got}`);
}
