import { type DisplayUnit, lengthUnit } from '../trial/display-units.ts';
import { signed } from './number-formats.ts';

/** What a cleaning may do otherwise than the trial's own. */
export interface CleaningChoices {
  /** Seconds added to the trial's own shift. */
  readonly lagMovedS: number;
  readonly endMarginM: number;
  readonly sideMarginM: number;
  readonly positionScreen: boolean;
  readonly turnScreen: boolean;
  readonly speedScreen: boolean;
  readonly widthScreen: boolean;
  /** Acts with the screen of width alone. */
  readonly cutBeforeScreen: boolean;
  readonly moistureLimits: boolean;
  readonly yieldLimits: boolean;
  readonly outlierScreen: boolean;
  /** Acts with the screen of odd points alone. */
  readonly acrossScreen: boolean;
}

const SCREEN_WORDS = {
  positionScreen: 'positions',
  turnScreen: 'turning',
  speedScreen: 'speed',
  widthScreen: 'width',
  cutBeforeScreen: 'ground cut before',
  moistureLimits: 'moisture limits',
  yieldLimits: 'yield limits',
  outlierScreen: 'odd points',
  acrossScreen: 'points odd beside neighbouring passes',
} as const;

const MARGIN_WORDS = { endMarginM: 'end margin', sideMarginM: 'side margin' } as const;

/** What a cleaning does otherwise than the trial's own, one phrase a setting; margins in the trial's unit of length. */
export function cleaningChanges(
  cleaning: CleaningChoices,
  own: CleaningChoices,
  { label, perSi }: DisplayUnit = lengthUnit('metric'),
): readonly string[] {
  const screens = Object.entries(SCREEN_WORDS) as [keyof typeof SCREEN_WORDS, string][];
  const margins = Object.entries(MARGIN_WORDS) as [keyof typeof MARGIN_WORDS, string][];
  const lag = cleaning.lagMovedS - own.lagMovedS;
  return [
    ...(lag === 0 ? [] : [`lag ${signed(lag, 0)} s`]),
    ...margins.flatMap(([key, words]) =>
      cleaning[key] === own[key]
        ? []
        : [`${words} ${Number((cleaning[key] * perSi).toPrecision(3))} ${label}`],
    ),
    ...screens.flatMap(([key, words]) =>
      cleaning[key] === own[key] ? [] : [`screen of ${words} ${cleaning[key] ? 'on' : 'off'}`],
    ),
  ];
}

/** Which settings turn a verdict: those that do so alone; else those with which it turns most often. */
export interface CleaningTurns {
  readonly alone: readonly string[];
  /** `count` of the `of` cleanings with that change turn it. */
  readonly often: readonly { readonly change: string; readonly count: number; readonly of: number }[];
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
  const most = often.map(({ change, count, of }) => `${change} (${count} of ${of})`);
  return `No setting turns it by itself; it turns most often with: ${most.join('; ')}.`;
}

/** Some cleanings leave too few strips to judge by. */
export function cleaningsWithoutVerdict(tried: number, judged: number): string {
  return `${tried - judged} of ${tried} cleanings left too little for a verdict.`;
}
