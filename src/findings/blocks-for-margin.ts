import { isRefusal } from '../../analyses/refusal.ts';
import { replicatesNeeded } from '../../analyses/replicates-needed.ts';
import { significant, withUnit } from '../words/number-formats.ts';

export interface BlocksForMargin {
  readonly blocks: number;
  /** The difference that so many blocks would find, with its unit. */
  readonly difference: string;
}

interface MarginQuestion {
  /** In this trial. */
  readonly blocks: number;
  readonly treatments: number;
  readonly cvPercent: number | null;
  readonly grandMean: number;
  readonly margin: number | null;
  readonly unit: string | null;
  /** Of one comparison: where several are guarded, the family's level shared among them. */
  readonly alpha: number;
}

const POWER = 0.8;

/**
 * How many blocks would find a difference as large as the margin, if strips vary as they did here. The margin is the
 * difference that was said to matter; the one observed would only repeat the verdict. null without a margin or a CV, or
 * where this trial already has that many.
 */
export function blocksNeededForMargin(question: MarginQuestion): BlocksForMargin | null {
  const { blocks, treatments, cvPercent, grandMean, margin, unit, alpha } = question;
  if (cvPercent === null || margin === null || cvPercent === 0) return null;
  const differencePercent = (100 * margin) / grandMean;
  const needed = replicatesNeeded({ treatments, cvPercent, differencePercent, power: POWER, alpha });
  if (isRefusal(needed) || needed.replicates === null || needed.replicates <= blocks) return null;
  return { blocks: needed.replicates, difference: withUnit(significant(margin, 3), unit) };
}
