import type { MachineOfStrip } from '../findings/machine-term.ts';
import type { OffPlan } from '../harvest/excluded-ground.ts';
import type { HarvestPointsInput } from '../harvest/harvest-input.ts';
import { harvestVariants } from '../harvest/harvest-variants.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { type Cleaning, cleaningsTried, settingsUnder } from './cleanings-tried.ts';
import { type ComparisonVerdict, verdictsOfStrips } from './verdicts-of-strips.ts';

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

/**
 * Does the cleaning decide? The trial is judged under more than a hundred reasonable cleanings (`cleaningsTried`). A
 * screen that the trial has off is on with its starting settings.
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
  const cleanings = cleaningsTried(
    trial,
    files.some(({ timeS }) => timeS !== null),
  );
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
