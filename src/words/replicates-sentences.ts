import { levelText, percentOf, significant } from './number-formats.ts';

export interface ReplicatesFigures {
  readonly treatments: number;
  readonly cvPercent: number;
  readonly differencePercent: number;
  readonly wantedPower: number;
  readonly alpha: number;
  readonly replicates: number | null;
  readonly errorDf: number;
  readonly power: number;
  readonly detectableDifferencePercent: number;
}

/** More blocks than a grower will give (common practice). */
const MORE_THAN_FIELDS_HOLD = 12;

/** The answer to "how many replicates?", as lines of text. */
export function replicatesText(
  figures: ReplicatesFigures,
  usual: readonly { readonly blocks: number; readonly differencePercent: number }[],
): string {
  const { treatments, cvPercent, alpha } = figures;
  const table = usual.map(
    ({ blocks, differencePercent }) =>
      `${String(blocks).padStart(6)} blocks find ${significant(differencePercent, 3)} %`,
  );
  return [
    answerLine(figures),
    ...(isHopeless(figures) ? [hopelessLine(figures)] : []),
    '',
    `With ${treatments} treatments, a CV of ${levelText(cvPercent)} % and a chance of ${percentOf(figures.wantedPower)}:`,
    ...table,
    '',
    `Complete blocks; each pair is judged alone by a two-sided t at ${levelText(alpha)}. Guarding several comparisons takes more.`,
    '',
  ].join('\n');
}

function answerLine(f: ReplicatesFigures): string {
  const difference = `a difference of ${levelText(f.differencePercent)} % of the mean`;
  if (f.replicates === null)
    return `Not even 1000 blocks find ${difference} with a chance of ${percentOf(f.wantedPower)}.`;
  return `${f.replicates} blocks find ${difference} with a chance of ${percentOf(f.power)} (${f.errorDf} error df; ${significant(f.detectableDifferencePercent, 3)} % is found with a chance of ${percentOf(f.wantedPower)}).`;
}

function isHopeless({ replicates }: ReplicatesFigures): boolean {
  return replicates === null || replicates > MORE_THAN_FIELDS_HOLD;
}

function hopelessLine(f: ReplicatesFigures): string {
  return `Hopeless on one field: hardly any holds that many. A trial with fewer will most likely say "not settled" even if the ${levelText(f.differencePercent)} % are true. Lower the CV (longer strips, even ground), ask for a larger difference, or repeat the trial on several fields.`;
}
