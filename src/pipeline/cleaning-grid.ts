import type { MachineOfStrip } from '../findings/machine-term.ts';
import type { OffPlan } from '../harvest/excluded-ground.ts';
import type { HarvestPointsInput } from '../harvest/harvest-input.ts';
import { harvestVariants, type VariedSettings } from '../harvest/harvest-variants.ts';
import { STARTING_HARVEST_SETTINGS } from '../trial/starting-settings.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { type ComparisonVerdict, verdictsOfStrips } from './verdicts-of-strips.ts';

/** One reasonable way of cleaning the data, by what it does otherwise than the trial's own settings. */
export interface Cleaning {
  /** Seconds added to the trial's own shift. */
  readonly lagMovedS: number;
  readonly endMarginM: number;
  readonly speedScreen: boolean;
  readonly widthScreen: boolean;
  readonly yieldLimits: boolean;
  readonly outlierScreen: boolean;
  readonly isOwn: boolean;
}

export interface CleaningResult {
  readonly cleaning: Cleaning;
  /** One a comparison, in the order of `comparisons`; null where the trial could not be judged. */
  readonly verdicts: readonly ComparisonVerdict[] | null;
}

/** One comparison under all cleanings: what a picture of it needs, and how often its verdict is another. */
export interface ComparisonUnderCleaning {
  readonly a: string;
  readonly b: string;
  readonly own: ComparisonVerdict;
  /** Of the differences a - b, in the trial's yield unit. */
  readonly least: number;
  readonly most: number;
  /** Cleanings under which the verdict on the difference, or on money, is not the one of the trial's own settings. */
  readonly differenceFlips: number;
  readonly moneyFlips: number;
}

export interface CleaningGrid {
  readonly results: readonly CleaningResult[];
  readonly comparisons: readonly ComparisonUnderCleaning[];
  /** Cleanings that were judged, and of those the ones with any verdict that flips. */
  readonly judged: number;
  readonly flipped: number;
}

export interface GridControl {
  /** Stretches that are not used, since they did not get what was planned. */
  readonly offPlan?: OffPlan | null;
  readonly onProgress?: (share: number) => void;
  readonly isCancelled?: () => boolean;
}

const LAGS_MOVED_S = [-2, 0, 2] as const;
const END_MARGIN_TIMES = [0.5, 1, 1.5] as const;
/** Margins to try where the trial has none. */
const END_MARGINS_M = [0, 10, 20] as const;
const ON_OFF = [true, false] as const;

/**
 * Does the cleaning decide? The trial is judged under 144 reasonable cleanings: lag as set and 2 s to either side, end
 * margin as set, half and one and a half times, and the screens of speed, width, yield limits and outliers each on
 * and off. A screen that the trial has off is on with its starting settings. Files without time keep their lag, so
 * that fewer cleanings differ.
 *
 * null where the points give no strip values, or the trial's own settings no verdict, and when cancelled.
 */
export function cleaningGrid(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  control: GridControl = {},
): CleaningGrid | null {
  const cleaned = stripsUnderCleanings(trial, files, control);
  return cleaned === null ? null : judgedCleanings(trial, cleaned);
}

/** One yield a strip (kg/ha, null: none) under one cleaning. */
export interface CleanedStrips {
  readonly cleaning: Cleaning;
  readonly yieldKgPerHa: readonly (number | null)[];
}

/** Points are placed, passes assigned and screens run once for all cleanings. null as for the grid. */
export function stripsUnderCleanings(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  control: GridControl = {},
): readonly CleanedStrips[] | null {
  const harvestUnder = harvestVariants(trial, files, control.offPlan ?? null);
  if (harvestUnder === null) return null;
  const cleanings = cleaningsOf(trial, files);
  const cleaned: CleanedStrips[] = [];
  for (const cleaning of cleanings) {
    if (control.isCancelled?.() === true) return null;
    cleaned.push({ cleaning, yieldKgPerHa: harvestUnder(settingsUnder(cleaning, trial.harvest)) });
    control.onProgress?.(cleaned.length / cleanings.length);
  }
  return cleaned;
}

export function judgedCleanings(
  trial: TrialDocument,
  cleaned: readonly CleanedStrips[],
  machines: MachineOfStrip | null = null,
): CleaningGrid | null {
  return summary(
    cleaned.map(({ cleaning, yieldKgPerHa }) => ({
      cleaning,
      verdicts: verdictsOfStrips(trial, yieldKgPerHa, machines),
    })),
  );
}

/** The trial's own cleaning comes first. */
function cleaningsOf({ harvest }: TrialDocument, files: readonly HarvestPointsInput[]): readonly Cleaning[] {
  const lags = files.some(({ timeS }) => timeS !== null) ? LAGS_MOVED_S : [0];
  const margins =
    harvest.endMarginM === 0 ? END_MARGINS_M : END_MARGIN_TIMES.map((times) => times * harvest.endMarginM);
  const own = ownCleaning(harvest);
  const all = lags.flatMap((lagMovedS) =>
    margins.flatMap((endMarginM) =>
      ON_OFF.flatMap((speedScreen) =>
        ON_OFF.flatMap((widthScreen) =>
          ON_OFF.flatMap((yieldLimits) =>
            ON_OFF.map((outlierScreen) => {
              const cleaning = {
                lagMovedS,
                endMarginM,
                speedScreen,
                widthScreen,
                yieldLimits,
                outlierScreen,
              };
              return { ...cleaning, isOwn: isSame(cleaning, own) };
            }),
          ),
        ),
      ),
    ),
  );
  return [...all].sort((a, b) => Number(b.isOwn) - Number(a.isOwn));
}

function ownCleaning(harvest: HarvestSettings): Omit<Cleaning, 'isOwn'> {
  return {
    lagMovedS: 0,
    endMarginM: harvest.endMarginM,
    speedScreen: [harvest.speedMinMPerS, harvest.speedMaxMPerS, harvest.speedChangePercent].some(
      (limit) => limit !== null,
    ),
    widthScreen: harvest.widthShareMin !== null,
    yieldLimits: harvest.yieldMinKgPerHa !== null || harvest.yieldMaxTimesMedian !== null,
    outlierScreen: harvest.outlierRobustSd !== null,
  };
}

function isSame(a: Omit<Cleaning, 'isOwn'>, b: Omit<Cleaning, 'isOwn'>): boolean {
  return Object.entries(b).every(([key, value]) => a[key as keyof typeof b] === value);
}

/** The settings of a cleaning: the trial's own where a screen is on in both, starting ones where the trial has it off. */
export function settingsUnder(cleaning: Cleaning, harvest: HarvestSettings): VariedSettings {
  const own = ownCleaning(harvest);
  const start = STARTING_HARVEST_SETTINGS;
  const speed = own.speedScreen ? harvest : start;
  const limits = own.yieldLimits ? harvest : start;
  const width = own.widthScreen ? harvest : start;
  const outliers = own.outlierScreen ? harvest : start;
  return {
    shiftLagS: harvest.shiftLagS + cleaning.lagMovedS,
    endMarginM: cleaning.endMarginM,
    speedMinMPerS: cleaning.speedScreen ? speed.speedMinMPerS : null,
    speedMaxMPerS: cleaning.speedScreen ? speed.speedMaxMPerS : null,
    speedChangePercent: cleaning.speedScreen ? speed.speedChangePercent : null,
    widthShareMin: cleaning.widthScreen ? width.widthShareMin : null,
    yieldMinKgPerHa: cleaning.yieldLimits ? limits.yieldMinKgPerHa : null,
    yieldMaxTimesMedian: cleaning.yieldLimits ? limits.yieldMaxTimesMedian : null,
    outlierRobustSd: cleaning.outlierScreen ? outliers.outlierRobustSd : null,
  };
}

function summary(results: readonly CleaningResult[]): CleaningGrid | null {
  const own = results[0]?.verdicts ?? null;
  if (own === null) return null;
  const judged = results.flatMap(({ verdicts }) => (verdicts === null ? [] : [verdicts]));
  const comparisons = own.map((verdict): ComparisonUnderCleaning => {
    const { a, b } = verdict;
    const under = judged.flatMap((all) => all.find((other) => other.a === a && other.b === b) ?? []);
    const differences = under.map(({ estimate }) => estimate);
    return {
      a,
      b,
      own: verdict,
      least: Math.min(...differences),
      most: Math.max(...differences),
      differenceFlips: under.filter(({ difference }) => difference !== verdict.difference).length,
      moneyFlips: under.filter(({ money }) => money !== verdict.money).length,
    };
  });
  return {
    results,
    comparisons,
    judged: judged.length,
    flipped: judged.filter((all) => flips(all, own)).length,
  };
}

function flips(all: readonly ComparisonVerdict[], own: readonly ComparisonVerdict[]): boolean {
  return own.some((verdict) => {
    const other = all.find(({ a, b }) => a === verdict.a && b === verdict.b);
    return other !== undefined && (other.difference !== verdict.difference || other.money !== verdict.money);
  });
}
