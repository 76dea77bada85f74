import { chanceText, fixed, levelPercent, levelText, percentOf, significant } from './number-formats.ts';

export const RECKONED_AS_BLOCKS =
  'Reckoned as for complete blocks. A Latin square or a split plot has errors of its own, which this does not know: take it as a rough guide.';

/** A plan and what it can do, as `planning` gives it; percentages are of the trial's mean. */
export interface PlanInFigures {
  readonly plan: {
    readonly treatments: number;
    readonly blocks: number;
    readonly design: 'randomizedCompleteBlocks' | 'completelyRandomized';
    readonly cvPercent: number;
    readonly differencePercent: number;
    readonly alpha: number;
    readonly power: number;
    readonly procedure: 't' | 'bonferroni' | 'tukey' | 'dunnett';
    readonly comparisons: number;
  };
  readonly verdict: 'enough' | 'notEnough' | 'hopeless';
  readonly errorDf: number;
  readonly power: number | null;
  readonly detectablePercent: number | null;
  readonly halfWidthPercent: number | null;
  readonly blocksNeeded: number | null;
}

export interface PlanningSentences {
  /** The answer in a sentence. */
  readonly answer: string;
  /** What stands behind it, one sentence each. */
  readonly further: readonly string[];
}

/** Below these the error is hardly known, and everything built on it. */
const FEW_ERROR_DF = 6;

export function planningSentences(figures: PlanInFigures): PlanningSentences {
  return {
    answer: answerSentence(figures),
    further: [
      ...detectableSentence(figures),
      neededSentence(figures),
      ...widthSentence(figures),
      ...fewDfSentence(figures),
      judgedSentence(figures),
    ],
  };
}

function answerSentence({ plan, verdict, power }: PlanInFigures): string {
  const difference = percentText(plan.differencePercent);
  if (power === null) {
    return `Do not lay this trial out as it stands: with ${times(plan)} nothing is repeated, so no difference can be told from chance.`;
  }
  const found = `a true difference of ${difference} would be found in ${chanceText(power).replace('> ', 'more than ')} of such trials`;
  if (verdict === 'enough') return `Enough: ${found}.`;
  if (verdict === 'notEnough') return `Not enough: ${found}, and ${percentOf(plan.power)} were asked for.`;
  return `Do not lay this trial out as it stands: ${found}. It would cost a season and answer nothing.`;
}

function detectableSentence({ plan, detectablePercent }: PlanInFigures): readonly string[] {
  if (detectablePercent === null) return [];
  return [
    `With ${times(plan)} of ${plan.treatments} treatments at a CV of ${percentText(plan.cvPercent)}, nothing short of ${percentText(detectablePercent)} is found with a chance of ${percentOf(plan.power)}.`,
  ];
}

function neededSentence({ plan, blocksNeeded }: PlanInFigures): string {
  const difference = percentText(plan.differencePercent);
  if (blocksNeeded === null) {
    return `No number of replicates that a field holds would find ${difference}. Longer strips lower the CV; so does a more even field.`;
  }
  if (blocksNeeded > plan.blocks) {
    return `To find ${difference} it takes ${counted(blocksNeeded, plan)}. Longer strips on an even field lower the CV, and with it that number.`;
  }
  return blocksNeeded === plan.blocks
    ? `With one less it would not be enough.`
    : `${capital(counted(blocksNeeded, plan))} would do already; what is more guards against lost strips and a rougher field.`;
}

function widthSentence({ halfWidthPercent, plan }: PlanInFigures): readonly string[] {
  if (halfWidthPercent === null) return [];
  return [
    `The interval about a difference, ${levelPercent(1 - plan.alpha)}, will reach about ${percentText(halfWidthPercent)} to either side.`,
  ];
}

function fewDfSentence({ errorDf }: PlanInFigures): readonly string[] {
  if (errorDf === 0 || errorDf >= FEW_ERROR_DF) return [];
  const degrees = errorDf === 1 ? '1 degree of freedom is' : `${errorDf} degrees of freedom are`;
  return [`Only ${degrees} left for the error; below ${FEW_ERROR_DF} the error itself is hardly known.`];
}

const GUARDED: Readonly<Record<PlanInFigures['plan']['procedure'], string>> = {
  t: 'each pair by its own t',
  bonferroni: 'by Bonferroni',
  tukey: 'by Tukey over all pairs',
  dunnett: 'by Dunnett, each against the check',
};

function judgedSentence({ plan }: PlanInFigures): string {
  return `Judged as the answer will be: ${GUARDED[plan.procedure]}, at the level ${levelText(plan.alpha)}; one true difference between two treatments, by the noncentral t.`;
}

function times({ blocks, design }: PlanInFigures['plan']): string {
  return counted(blocks, { design });
}

function counted(count: number, { design }: Pick<PlanInFigures['plan'], 'design'>): string {
  if (design === 'randomizedCompleteBlocks') return `${count} ${count === 1 ? 'block' : 'blocks'}`;
  return `${count} ${count === 1 ? 'strip' : 'strips'} of each treatment`;
}

/** "82 %", "8.3 %", "5 %", "0.91 %". */
function percentText(percent: number): string {
  return `${percent >= 10 ? fixed(percent, 0) : String(Number(significant(percent, 2)))} %`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
