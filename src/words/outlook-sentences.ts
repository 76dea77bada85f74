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
