import { fixed, levelText, percentOf, pPhrase, pValue } from './number-formats.ts';
import { listed } from './sentence.ts';
import { settingWords } from './setting-words.ts';

/** What makes an answer weaker than it looks, in one sentence each. */

export function fewErrorDf(df: number): string {
  return `Only ${df} degree${df === 1 ? '' : 's'} of freedom for error: the interval is wide, and the error itself is poorly known.`;
}

export function checksAreBlind(df: number): string {
  return `On ${df} degree${df === 1 ? '' : 's'} of freedom for error the checks of assumptions are as good as blind: one treatment could vary three times as much as the others and pass unnoticed.`;
}

/** Beside a doubt about equal variances: the pair by its own differences, whose error no other treatment shares. */
export function pairAlone(pair: string, range: string, p: number, isReal: boolean, agrees: boolean): string {
  const verdict = isReal ? 'leaves zero out' : 'holds zero';
  const then = agrees
    ? 'as the answer does'
    : 'other than the answer: take the difference as not settled until more blocks tell';
  return `Treatments seem to vary unequally. A second opinion on ${pair}, from their own differences block by block (paired t, for this pair alone): the interval ${range} ${verdict} (${pPhrase(p)}), ${then}.`;
}

/** A doubt about equal variances where the pair cannot be looked at by itself. */
export const NO_PAIR_ALONE =
  'Treatments seem to vary unequally, and this pair has no second opinion of its own: that needs both treatments once in each of at least two blocks.';

export const NOT_RANDOMISED =
  'Treatments were not randomised: whatever runs across the field can pass for an effect of the treatment.';

export const RANDOMISATION_NOT_SAID =
  'Nobody said whether treatments were put on strips by chance; the figures take it for granted.';

export function sameOrderInBlocks(order: readonly string[]): string {
  return `The treatments lie in the same order in every block (${order.join(', ')}), as if not randomised, so a trend across the field counts for one and against another.`;
}

export function stripsLost(lost: number, of: number): string {
  return `${lost} of ${of} strips gave no value, so the means rest on fewer strips.`;
}

export function onSingleStrip(treatment: string): string {
  return `${treatment} has a value on a single strip; its error is taken from the strips of the other treatments.`;
}

export const INCOMPLETE_BLOCKS =
  'Not every block holds every treatment once, so means are adjusted for the blocks by least squares.';

export function unequalSetAside(a: string, shareA: number, b: string, shareB: number): string {
  return `Screening set aside ${percentOf(shareA)} of the points of ${a} but ${percentOf(shareB)} of ${b}: the cleaning itself may have moved the difference.`;
}

export function changedAfterSeeing(paths: readonly string[]): string {
  return `Settings were changed after the harvest data had been seen: ${listed(paths.map(settingWords))}.`;
}

export function bestIsFlattered(best: string, treatments: number): string {
  return `${best} has the best mean of ${treatments} treatments, and the best of several is flattered by chance: expect less next time.`;
}

export const MOISTURE_BASIS_ASSUMED =
  'Nobody said at which moisture the yields were recorded; the answer rests on what was assumed.';

export const LAG_NOT_KNOWN =
  'Nobody said which transit lag was taken out of the yield data; if none was, values smear along the strips.';

export const MARGIN_NOT_SET =
  'No margin was set before harvest, so "the same for practical purposes" cannot be shown.';

/** Two one-sided tests hold the level of one comparison; over several the chances add up. */
export function sameSeveralTimes(comparisons: number, alpha: number): string {
  const most = Math.min(1, comparisons * alpha);
  return `Sameness is tested at level ${levelText(alpha)} for each of ${comparisons} comparisons by itself: the chance that at least one is wrongly called the same can reach ${percentOf(most)}.`;
}

/** For procedures that are exact in complete blocks alone. */
export function approximateLevel(procedure: string): string {
  return `With adjusted means the level of ${procedureWords(procedure)} is approximate, on the safe side.`;
}

/** Said with every answer: how far it reaches. */
export const ONE_FIELD_ONE_SEASON = 'One field in one season: other fields and years may answer differently.';

export const MORE_BLOCKS =
  'More blocks: the interval narrows roughly with the square root of their number (four times the blocks, half the width).';

export const MORE_SEASONS = 'The same comparison on more fields or in another season.';

export function moreBlocks(blocks: number, difference: string): string {
  return `About ${blocks} blocks would be needed to find a difference of ${difference}, if strips vary as they did here.`;
}

export const REPLICATION_WOULD_SETTLE =
  'Replication: at least three, better four or more, blocks that each hold every treatment, in random order.';

export const SET_PRICE_AND_COSTS =
  'Price of the crop and costs of the treatments, for the statement on money.';

export const SET_MARGIN =
  'A margin, set before the next harvest: the smallest difference that matters, so that "the same" can be shown.';

/** Where the interval comes from; verdicts on money rest on it, and with most procedures those on the difference. */
export function intervalReason(interval: string, procedure: string): string {
  return `The ${interval} is that of ${procedureWords(procedure)}.`;
}

/** What a procedure is called within a sentence. */
export function procedureWords(procedure: string): string {
  return PROCEDURE_WORDS[procedure] ?? procedure;
}

const PROCEDURE_WORDS: Readonly<Record<string, string>> = {
  t: 'a t test of this pair',
  lsd: 'the LSD',
  protectedLsd: 'the protected LSD',
  bonferroni: 'Bonferroni',
  holm: 'Holm',
  dunnett: 'Dunnett',
  tukey: 'Tukey',
  paired: 'the paired t test',
};

/** The reason that carries the test. */
export function testReason(figures: {
  readonly t: number;
  readonly df: number;
  readonly p: number;
  readonly procedure: string;
  readonly alpha: number;
}): string {
  const p = pValue(figures.p);
  return `t = ${fixed(figures.t, 2)} on ${figures.df} error df, p ${/^[<>]/.test(p) ? p : `= ${p}`} (${procedureWords(figures.procedure)}, level ${levelText(figures.alpha)}).`;
}

export const SMALL_ERROR_DF_CHECK = {
  what: 'How much the checks of assumptions can see',
  meaning: 'Below 8 error degrees of freedom no check of assumptions can see much.',
  whatToDo:
    'Look at the strips in field order, and rely on randomisation rather than on tests of assumptions.',
} as const;

/** By the problem that the harvest names. */
const LINED_UP: Readonly<Record<string, string>> = {
  directionLinesUp: 'direction of travel',
  machineLinesUp: 'machine',
  operatorLinesUp: 'operator',
  dayLinesUp: 'day of harvest',
  fileLinesUp: 'harvest file',
};

/** null for a problem that says nothing of a condition of the harvest. */
export function wentWithTreatment(code: string): string | null {
  const isPartly = code.endsWith('PartlyLinesUp');
  const what = LINED_UP[isPartly ? code.replace('Partly', '') : code];
  if (what === undefined) return null;
  return isPartly
    ? `The ${what} went partly with the treatment at harvest: that part of its effect stands in the differences.`
    : `The ${what} went with the treatment at harvest: its effect cannot be told from theirs.`;
}
