import { detectableInStandardErrors } from '../../analyses/detectable-difference.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { type ReplicatesQuestion, replicatesNeeded } from '../../analyses/replicates-needed.ts';

/** What `stripverdict replicates` gives; the keys are part of the command line's contract. */
export interface ReplicatesAnswer {
  /** Blocks, each treatment once in each; null where not even 1000 are enough. */
  readonly replicates: number | null;
  readonly errorDf: number;
  readonly power: number;
  readonly detectableDifferencePercent: number;
}

export interface DetectableInBlocks {
  readonly blocks: number;
  readonly differencePercent: number;
}

/** Numbers of blocks that fields hold (common practice), for the table beside the answer. */
const USUAL_BLOCKS = [2, 3, 4, 5, 6, 8];

/** Complete blocks, each pair of treatments judged by its own two-sided t. The question has been checked. */
export function planReplicates(question: ReplicatesQuestion): ReplicatesAnswer {
  const needed = replicatesNeeded(question);
  if (isRefusal(needed)) throw new RangeError(`replicates: expected a checked question, got ${needed.code}`);
  const { replicates, errorDf, power, detectableDifferencePercent } = needed;
  return { replicates, errorDf, power, detectableDifferencePercent };
}

/** What the usual numbers of blocks find with the power asked for. */
export function detectableInUsualBlocks(question: ReplicatesQuestion): readonly DetectableInBlocks[] {
  const { treatments, cvPercent, alpha, power } = question;
  return USUAL_BLOCKS.map((blocks) => {
    const standardErrors = detectableInStandardErrors((treatments - 1) * (blocks - 1), alpha, power);
    return { blocks, differencePercent: cvPercent * Math.sqrt(2 / blocks) * standardErrors };
  });
}
