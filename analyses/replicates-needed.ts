import { alphaRefusal } from './alpha.ts';
import { detectableInStandardErrors } from './detectable-difference.ts';
import { fewestEnough } from './fewest-enough.ts';
import { powerTwoSidedT } from './power-two-sided-t.ts';
import { type Refusal, refuse } from './refusal.ts';

export interface ReplicatesQuestion {
  /** At least 2. */
  readonly treatments: number;
  /** Coefficient of variation of strips, percent of the mean: 100 residual standard deviation / mean. */
  readonly cvPercent: number;
  /** The true difference between two treatments to be found, percent of the mean. */
  readonly differencePercent: number;
  /** Wanted chance of finding it, alpha < power < 1. */
  readonly power: number;
  /** Two-sided, 0 < alpha <= 0.5. */
  readonly alpha: number;
}

export interface ReplicatesNeeded {
  /** Blocks, each treatment once in each; null when `mostReplicates` are not enough. */
  readonly replicates: number | null;
  /** The following are for `replicates`, or for `mostReplicates` when that is null. */
  readonly errorDf: number;
  readonly power: number;
  /** Found with the power asked for. */
  readonly detectableDifferencePercent: number;
}

export interface PowerInBlocks {
  readonly errorDf: number;
  readonly power: number;
}

/**
 * The fewest blocks in which two treatments that truly differ are told apart by a two-sided t with the power asked for.
 *
 * Randomized complete blocks: error df (treatments - 1)(blocks - 1), standard error of a difference cv sqrt(2 / blocks).
 * Each pair is judged alone at alpha (LSD); a procedure that guards several comparisons needs more.
 *
 * @param question - see {@link ReplicatesQuestion}
 * @param mostReplicates - where to stop, at least 2
 * @returns the answer, or the refusal `tooFewTreatments` or `alphaOutOfRange`
 * @throws RangeError for a CV, difference or power outside its bounds
 */
export function replicatesNeeded(
  question: ReplicatesQuestion,
  mostReplicates = 1000,
): ReplicatesNeeded | Refusal {
  const { treatments, cvPercent, differencePercent, power, alpha } = question;
  requirePositive('cvPercent', cvPercent);
  requirePositive('differencePercent', differencePercent);
  if (treatments < 2) return refuse('tooFewTreatments', { levels: treatments });
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  if (!(power > alpha && power < 1))
    throw new RangeError(`power: expected more than alpha ${alpha} and less than 1, got ${power}`);
  const enough = (blocks: number) => powerInBlocks(question, blocks).power >= power;
  const replicates = fewestEnough(enough, 2, mostReplicates);
  const blocks = replicates ?? mostReplicates;
  const reached = powerInBlocks(question, blocks);
  return {
    replicates,
    errorDf: reached.errorDf,
    power: reached.power,
    detectableDifferencePercent:
      cvPercent * Math.sqrt(2 / blocks) * detectableInStandardErrors(reached.errorDf, alpha, power),
  };
}

/** Power of one pair in this many complete blocks, at least 2. */
export function powerInBlocks(
  question: Pick<ReplicatesQuestion, 'treatments' | 'cvPercent' | 'differencePercent' | 'alpha'>,
  blocks: number,
): PowerInBlocks {
  const errorDf = (question.treatments - 1) * (blocks - 1);
  const shift = (question.differencePercent / question.cvPercent) * Math.sqrt(blocks / 2);
  return { errorDf, power: powerTwoSidedT(shift, errorDf, question.alpha) };
}

function requirePositive(name: string, value: number): void {
  if (!(value > 0 && value < Infinity))
    throw new RangeError(`${name}: expected a positive number, got ${value}`);
}
