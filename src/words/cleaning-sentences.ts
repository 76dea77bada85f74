import { signed } from './number-formats.ts';

/** What a cleaning may do otherwise than the trial's own. */
export interface CleaningChoices {
  /** Seconds added to the trial's own shift. */
  readonly lagMovedS: number;
  readonly endMarginM: number;
  readonly speedScreen: boolean;
  readonly widthScreen: boolean;
  readonly yieldLimits: boolean;
  readonly outlierScreen: boolean;
}

const SCREEN_WORDS = {
  speedScreen: 'speed',
  widthScreen: 'width',
  yieldLimits: 'yield limits',
  outlierScreen: 'odd points',
} as const;

/** What a cleaning does otherwise than the trial's own, one phrase a setting. */
export function cleaningChanges(cleaning: CleaningChoices, own: CleaningChoices): readonly string[] {
  const screens = Object.entries(SCREEN_WORDS) as [keyof typeof SCREEN_WORDS, string][];
  const lag = cleaning.lagMovedS - own.lagMovedS;
  return [
    ...(lag === 0 ? [] : [`lag ${signed(lag, 0)} s`]),
    ...(cleaning.endMarginM === own.endMarginM
      ? []
      : [`end margin ${Number(cleaning.endMarginM.toPrecision(4))} m`]),
    ...screens.flatMap(([key, words]) =>
      cleaning[key] === own[key] ? [] : [`screen of ${words} ${cleaning[key] ? 'on' : 'off'}`],
    ),
  ];
}

/** Which settings turn a verdict: those that do so alone; else those changed most often where it turns. */
export interface CleaningTurns {
  readonly alone: readonly string[];
  readonly often: readonly { readonly change: string; readonly count: number }[];
}

/** How often the verdicts on one comparison read otherwise under other reasonable cleanings. */
export interface CleaningFlips {
  readonly a: string;
  readonly b: string;
  readonly judged: number;
  readonly differenceFlips: number;
  readonly moneyFlips: number;
  readonly turns: CleaningTurns;
}

export function cleaningHolds(judged: number): string {
  return `The cleaning does not decide: under all ${judged} reasonable cleanings that were tried both statements read the same.`;
}

export function cleaningDecides({ a, b, judged, differenceFlips, moneyFlips, turns }: CleaningFlips): string {
  const parts = [
    ...(differenceFlips === 0 ? [] : [`${differenceFlips} change the statement on the difference`]),
    ...(moneyFlips === 0 ? [] : [`${moneyFlips} change the statement on money`]),
  ];
  return `The cleaning has a say in ${a} against ${b}: of ${judged} reasonable cleanings that were tried, ${parts.join(' and ')}. ${turnsSentence(turns)}`;
}

function turnsSentence({ alone, often }: CleaningTurns): string {
  if (alone.length > 0) return `By itself it is turned by: ${alone.join('; ')}.`;
  const most = often.map(({ change, count }) => `${change} (in ${count})`);
  return `No setting turns it by itself; most often changed where it turns: ${most.join('; ')}.`;
}

/** Some cleanings leave too few strips to judge by. */
export function cleaningsWithoutVerdict(tried: number, judged: number): string {
  return `${tried - judged} of ${tried} cleanings left too little for a verdict.`;
}
