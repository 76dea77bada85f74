import { alphaRefusal } from './alpha.ts';
import { powerTwoSidedT } from './power-two-sided-t.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { ReplicatesQuestion } from './replicates-needed.ts';

export interface ReplicatesCompletelyRandomized {
  /** Plots of each treatment; null when `mostReplicates` are not enough. */
  readonly replicates: number | null;
  readonly errorDf: number;
  readonly power: number;
}

/**
 * The fewest plots of each treatment, without blocks, in which two treatments that truly differ are told apart by a
 * two-sided t with the power asked for: error df treatments * (replicates - 1).
 *
 * @param question - see {@link ReplicatesQuestion}; CV and difference positive, alpha < power < 1
 * @param mostReplicates - where to stop, at least 2
 * @returns the answer, or the refusal `tooFewTreatments` or `alphaOutOfRange`
 * Source: as `replicates-needed.ts`, with the other error df.
 */
export function replicatesCompletelyRandomized(
  question: ReplicatesQuestion,
  mostReplicates = 1000,
): ReplicatesCompletelyRandomized | Refusal {
  const { treatments, cvPercent, differencePercent, power, alpha } = question;
  if (treatments < 2) return refuse('tooFewTreatments', { levels: treatments });
  const refused = alphaRefusal(alpha);
  if (refused !== null) return refused;
  const reached = (replicates: number) => {
    const errorDf = treatments * (replicates - 1);
    const shift = (differencePercent / cvPercent) * Math.sqrt(replicates / 2);
    return { errorDf, power: powerTwoSidedT(shift, errorDf, alpha) };
  };
  if (reached(mostReplicates).power < power) return { replicates: null, ...reached(mostReplicates) };
  let [low, high] = [1, mostReplicates];
  while (low + 1 < high) {
    const middle = Math.floor((low + high) / 2);
    if (reached(middle).power >= power) high = middle;
    else low = middle;
  }
  return { replicates: high, ...reached(high) };
}
