import { type CheckSentences, NOTHING_TO_DO, WHY_NOT_TESTED } from './check-sentences.ts';
import { levelText, pPhrase, significant } from './number-formats.ts';

/** Tests that rest on other grounds than the deciding one: do they say the same? */

export const AGREEMENT_IDS = ['friedman', 'signedRank', 'signFlips', 'randomization'] as const;
export type AgreementId = (typeof AGREEMENT_IDS)[number];

const AGREEMENT_WHAT: Readonly<
  Record<AgreementId, { readonly what: string; readonly statisticName: string }>
> = {
  friedman: { what: "Ranks within blocks (Friedman's test, ties allowed for)", statisticName: 'chi-squared' },
  signedRank: { what: "Ranks of the differences (Wilcoxon's signed-rank test, exact)", statisticName: 'V' },
  signFlips: { what: 'Randomization test of the pairs (sign flips)', statisticName: 'mean difference' },
  randomization: { what: 'Randomization test of the trial as it was drawn', statisticName: 'F' },
};

export interface AgreementFigures {
  readonly p: number;
  /** Of the analysis of variance, or of the t of two treatments. */
  readonly pOfAnalysis: number;
  readonly alpha: number;
  readonly smallestP: number;
  /** null for tests that count no arrangements. */
  readonly arrangements: number | null;
  readonly exact: boolean;
  readonly standardErrorOfP: number | null;
  readonly seed: number | null;
}

export function agreementSentences(id: AgreementId, a: AgreementFigures): CheckSentences {
  const { what, statisticName } = AGREEMENT_WHAT[id];
  const sentences = [agreementVerdict(a), howCounted(a), reachOf(a)].filter((part) => part !== '');
  return { what, statisticName, meaning: sentences.join(' '), whatToDo: agreementAdvice(a) };
}

function agreementVerdict(a: AgreementFigures): string {
  const level = levelText(a.alpha);
  const [here, there] = [a.p < a.alpha, a.pOfAnalysis < a.alpha];
  if (here === there)
    return `Agrees with the analysis of variance: treatments ${here ? 'differ' : 'are not shown to differ'} at ${level} (${pPhrase(a.p)}).`;
  return `Does not agree: ${pPhrase(a.p)} here, ${pPhrase(a.pOfAnalysis)} in the analysis of variance, on either side of ${level}.`;
}

function howCounted(a: AgreementFigures): string {
  if (a.arrangements === null) return '';
  if (a.exact) return `All ${a.arrangements} arrangements were counted.`;
  return `${a.arrangements} arrangements were drawn (seed ${a.seed}), which leaves p uncertain by ${significant(a.standardErrorOfP, 2)}.`;
}

function reachOf(a: AgreementFigures): string {
  const smallest = `The smallest p that this design can give here is ${significant(a.smallestP, 3)}`;
  return a.smallestP >= a.alpha
    ? `${smallest}, so this test cannot reach ${levelText(a.alpha)}, whatever the values.`
    : `${smallest}.`;
}

function agreementAdvice(a: AgreementFigures): string {
  if (a.smallestP >= a.alpha) return 'Rely on the deciding procedure and on the size of the difference.';
  if (a.p < a.alpha === a.pOfAnalysis < a.alpha) return NOTHING_TO_DO;
  return 'Treat the answer as open: it hangs on what is assumed about the errors. The verdict is left to the deciding procedure.';
}

export function agreementRefused(id: AgreementId, code: string): CheckSentences {
  const { what, statisticName } = AGREEMENT_WHAT[id];
  const reason = WHY_NO_AGREEMENT[code] ?? WHY_NOT_TESTED[code] ?? `these data do not carry it (${code})`;
  return { what, statisticName, meaning: `Not tested: ${reason}.`, whatToDo: NOTHING_TO_DO };
}

const WHY_NO_AGREEMENT: Readonly<Record<string, string>> = {
  tooManyPlots: 'with so many plots it would agree with F and take long',
  notThisDesign: 'arrangements of this design are not simply shuffles within blocks',
  ranksNotAdjusted:
    'ranks within blocks know nothing of what the analysis adjusts for, and would answer another question',
};

export function rankedPairsMeaning(leastDifference: number, alpha: number): string {
  return `By ranks alone, all pairs guarded together: rank sums further apart than ${significant(leastDifference, 3)} differ at level ${levelText(alpha)}. In few blocks this is on the safe side. It decides nothing.`;
}
