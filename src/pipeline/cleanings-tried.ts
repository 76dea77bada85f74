import { balancedArrangement } from '../../analyses/balanced-arrangement.ts';
import type { VariedSettings } from '../harvest/harvest-variants.ts';
import { STARTING_HARVEST_SETTINGS } from '../trial/starting-settings.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import type { CleaningChoices } from '../words/cleaning-sentences.ts';

/** One reasonable way of cleaning the data, by what it does otherwise than the trial's own settings. */
export interface Cleaning extends CleaningChoices {
  readonly isOwn: boolean;
}

const LAGS_MOVED_S = [0, -2, 2] as const;
const MARGIN_TIMES = { end: [1, 0.5, 1.5], side: [1, 0, 2] } as const;
/** Margins to try where the trial has none. */
const MARGINS_M = { end: [0, 10, 20], side: [0, 0.5, 1] } as const;

/** Limits that leave every moisture that can be. */
const ANY_MOISTURE = { moistureMinPercent: 0, moistureMaxPercent: 100 } as const;

const SWITCHED = [
  'positionScreen',
  'turnScreen',
  'speedScreen',
  'widthScreen',
  'cutBeforeScreen',
  'moistureLimits',
  'yieldLimits',
  'outlierScreen',
  'acrossScreen',
] as const satisfies readonly (keyof CleaningChoices)[];

type Levels = { readonly [Key in keyof CleaningChoices]: readonly CleaningChoices[Key][] };

/**
 * Which cleanings are tried? The lag as set and 2 s to either side; the end margin as set, half and one and a half times;
 * the side margin as set, none and twice (never more than half of what a strip is wider than the header); every screen
 * that can be switched on and off. All mixes would be 13,824: tried are each change alone and a balanced arrangement of
 * 108 mixes, in which any two settings meet in every way equally often, and any three screens in every way.
 *
 * Files without time keep their lag, and strips without outline have no sides. The trial's own cleaning comes first, then
 * those that change one setting.
 */
export function cleaningsTried(
  { harvest, strips }: Pick<TrialDocument, 'harvest' | 'strips'>,
  hasTime: boolean,
): readonly Cleaning[] {
  const own = ownCleaning(harvest);
  const levels = levelsOf(
    own,
    hasTime,
    strips.some(({ polygon }) => polygon !== null),
  );
  const keys = Object.keys(levels) as (keyof CleaningChoices)[];
  const alone = keys.flatMap((key) => levels[key].slice(1).map((level) => ({ ...own, [key]: level })));
  const [, ...mixed] = mixesOf(own, levels);
  return [
    { ...own, isOwn: true },
    ...[...alone, ...mixed].map((cleaning) => ({ ...cleaning, isOwn: false })),
  ];
}

/** The trial's own level of each setting comes first. */
function levelsOf(own: CleaningChoices, hasTime: boolean, hasSides: boolean): Levels {
  const margins = (which: 'end' | 'side', marginM: number) =>
    marginM === 0 ? MARGINS_M[which] : MARGIN_TIMES[which].map((times) => times * marginM);
  const screens = SWITCHED.map((key) => ({ [key]: [own[key], !own[key]] }));
  return Object.assign(
    {
      lagMovedS: hasTime ? LAGS_MOVED_S : [0],
      endMarginM: margins('end', own.endMarginM),
      sideMarginM: hasSides ? margins('side', own.sideMarginM) : [own.sideMarginM],
    },
    ...screens,
  );
}

function mixesOf(own: CleaningChoices, levels: Levels): readonly CleaningChoices[] {
  const threes = (['endMarginM', 'sideMarginM', 'lagMovedS'] as const).filter(
    (key) => levels[key].length === 3,
  );
  return balancedArrangement(threes.length, SWITCHED.length).map(({ ofThree, ofTwo }) => ({
    ...own,
    ...Object.fromEntries(threes.map((key, k) => [key, levels[key][ofThree[k] ?? 0]])),
    ...Object.fromEntries(SWITCHED.map((key, k) => [key, levels[key][ofTwo[k] ?? 0]])),
  }));
}

function ownCleaning(harvest: HarvestSettings): CleaningChoices {
  const { speedMinMPerS, speedMaxMPerS, speedChangePercent, moistureMinPercent, moistureMaxPercent } =
    harvest;
  return {
    lagMovedS: 0,
    endMarginM: harvest.endMarginM,
    sideMarginM: harvest.sideMarginM,
    positionScreen: harvest.positionScreen !== false,
    turnScreen: harvest.turnDegrees !== null,
    speedScreen: [speedMinMPerS, speedMaxMPerS, speedChangePercent].some((limit) => limit !== null),
    widthScreen: harvest.widthShareMin !== null,
    cutBeforeScreen: harvest.cutBeforeScreen !== false,
    moistureLimits: moistureMinPercent !== 0 || moistureMaxPercent !== 100,
    yieldLimits: harvest.yieldMinKgPerHa !== null || harvest.yieldMaxTimesMedian !== null,
    outlierScreen: harvest.outlierRobustSd !== null,
    acrossScreen: harvest.acrossScreen !== false,
  };
}

/** The settings of a cleaning: the trial's own where a screen is on in both, starting ones where the trial has it off. */
export function settingsUnder(cleaning: CleaningChoices, harvest: HarvestSettings): VariedSettings {
  const own = ownCleaning(harvest);
  const from = (key: (typeof SWITCHED)[number]) => (own[key] ? harvest : STARTING_HARVEST_SETTINGS);
  const [speed, limits] = [from('speedScreen'), from('yieldLimits')];
  const { moistureMinPercent, moistureMaxPercent } = from('moistureLimits');
  return {
    shiftLagS: harvest.shiftLagS + cleaning.lagMovedS,
    endMarginM: cleaning.endMarginM,
    sideMarginM: cleaning.sideMarginM,
    positionScreen: cleaning.positionScreen,
    turnDegrees: cleaning.turnScreen ? from('turnScreen').turnDegrees : null,
    speedMinMPerS: cleaning.speedScreen ? speed.speedMinMPerS : null,
    speedMaxMPerS: cleaning.speedScreen ? speed.speedMaxMPerS : null,
    speedChangePercent: cleaning.speedScreen ? speed.speedChangePercent : null,
    widthShareMin: cleaning.widthScreen ? from('widthScreen').widthShareMin : null,
    cutBeforeScreen: cleaning.cutBeforeScreen,
    ...(cleaning.moistureLimits ? { moistureMinPercent, moistureMaxPercent } : ANY_MOISTURE),
    yieldMinKgPerHa: cleaning.yieldLimits ? limits.yieldMinKgPerHa : null,
    yieldMaxTimesMedian: cleaning.yieldLimits ? limits.yieldMaxTimesMedian : null,
    outlierRobustSd: cleaning.outlierScreen ? from('outlierScreen').outlierRobustSd : null,
    acrossScreen: cleaning.acrossScreen,
  };
}
