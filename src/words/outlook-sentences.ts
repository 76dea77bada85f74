import { percentOf, significant, withUnit } from './number-formats.ts';

/** What the trial says beyond its verdicts: chances, flattery, single blocks, the next trial. */

export function chancesMeaning(standardError: number, draws: number): string {
  return `From the t posterior under a flat prior: what these strips alone make likely about these treatments on this field, if nothing was known before. Chances of being best are drawn (${draws} draws, uncertain by ${percentOf(standardError)} at most); the others are exact. They decide nothing.`;
}

export function flatteryMeaning(
  best: string,
  of: number,
  expected: number,
  percentOfMean: number | null,
  unit: string | null,
): string {
  const share = percentOfMean === null ? '' : ` (${significant(percentOfMean, 2)} % of the mean)`;
  return `${best} came out best of ${of}. If all ${of} were alike, the best of them would still come out ${withUnit(significant(expected, 2), unit)}${share} better than it is, by chance alone: expect less next time.`;
}

export function blockMakesAnswer(block: string, a: string, b: string, verdict: string): string {
  return `One block makes the answer: without block ${block}, ${a} against ${b} would read "${verdict}".`;
}

export function replicatesMeaning(
  replicates: number | null,
  blocked: boolean,
  margin: string,
  power: number,
): string {
  const each = blocked ? 'blocks' : 'strips of each treatment';
  return replicates === null
    ? `Not even 1000 ${each} would find a difference of ${margin}, if strips vary as they did here.`
    : `${replicates} ${each} find a difference of ${margin} with a chance of ${percentOf(power)}, if strips vary as they did here.`;
}

/** A gain or loss of less than this share is nothing worth saying. */
const HARDLY = 0.05;

export function blockingMeaning(efficiency: number): string {
  const times = significant(efficiency, 3);
  if (Math.abs(efficiency - 1) < HARDLY)
    return `The blocks made hardly any difference here (${times} times the strips would have been needed without them).`;
  return efficiency > 1
    ? `The blocks paid: without them the same precision would have taken ${times} times the strips.`
    : `The blocks did not pay here: without them ${times} times the strips would have given the same precision. Lay them the other way next time, or make them smaller.`;
}
