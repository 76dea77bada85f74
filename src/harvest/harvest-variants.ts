import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { cutBeforeM } from './cut-before.ts';
import { type ExcludedGround, excludedGround, type OffPlan } from './excluded-ground.ts';
import { harvestGround } from './harvest-ground.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { type MeasuredFile, measureFile } from './measured-file.ts';
import { type PassesOfStrip, passesOfStrips, screenAcross } from './outliers-across.ts';
import { ownOfFile } from './own-of-file.ts';
import type { JudgedFile } from './pass-choice.ts';
import { moistureLimits, pointScreens, REASON_NUMBER } from './point-screens.ts';
import type { StripGround } from './strip-ground.ts';
import { stripValues } from './strip-sums.ts';
import { SET_ASIDE_REASONS } from './strip-values.ts';
import { screenOutliers, screenYieldLimits } from './yield-screens.ts';

/** Settings that a variant may change; all others stand as the trial has them. */
export type VariedSettings = Pick<
  HarvestSettings,
  | 'shiftLagS'
  | 'endMarginM'
  | 'speedMinMPerS'
  | 'speedMaxMPerS'
  | 'speedChangePercent'
  | 'widthShareMin'
  | 'yieldMinKgPerHa'
  | 'yieldMaxTimesMedian'
  | 'outlierRobustSd'
>;

/** One yield a strip (kg/ha at standard moisture, null: none) under changed settings, as `harvestPoints` gives them. */
export type HarvestUnder = (varied: VariedSettings) => readonly (number | null)[];

/** Screens whose reasons end a pass, or that come before one that does, stand first in each variant. */
const FIRST = SET_ASIDE_REASONS.slice(0, SET_ASIDE_REASONS.indexOf('endMargin'));
const FURTHER = ['endMargin', 'speed', 'width', 'moisture'] as const;

/** A file at one lag, its reasons up to turning, and what further screens say, by the settings they were asked with. */
interface VariantFile {
  readonly file: JudgedFile;
  readonly first: Uint8Array;
  readonly masks: Map<string, Uint8Array>;
  readonly cutBefore: Float32Array | null;
  readonly excluded: ExcludedGround;
}

/**
 * Prepares a harvest to be asked again and again under other settings: points are placed and passes assigned once,
 * flow is shifted once a lag, each screen is run once a setting. null where `harvestPoints` would refuse the files.
 */
export function harvestVariants(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  offPlan: OffPlan | null = null,
): HarvestUnder | null {
  const known = harvestGround(trial, files);
  if (!known.ok) return null;
  const { frame, grounds } = known.value;
  const placed = files.map(known.value.place);
  if (placed.every(({ strip }) => strip.every((index) => index < 0))) return null;
  const measure = (shiftLagS: number): readonly MeasuredFile[] | null => {
    const measured = placed.map((file) =>
      measureFile(
        file,
        trial.harvest,
        trial.standardMoisturePercent,
        ownOfFile(trial, file.input.file, shiftLagS - trial.harvest.shiftLagS),
      ),
    );
    const complete = measured.filter((file): file is MeasuredFile => !('missing' in file));
    return complete.length < placed.length ? null : complete;
  };
  const start = measure(trial.harvest.shiftLagS);
  if (start === null) return null;
  const chosen = known.value.choose(start, trial.harvest).files;
  const cut = chosen.map((file) =>
    trial.harvest.cutBeforeScreen === false ? null : cutBeforeM(file, grounds),
  );
  const excluded = excludedGround(trial, grounds, frame, offPlan);
  const passes = trial.harvest.acrossScreen === false ? [] : passesOfStrips(chosen, grounds, true);
  const byLag = new Map<number, readonly VariantFile[]>();
  const filesAt = (lagS: number) => {
    const before = byLag.get(lagS);
    if (before !== undefined) return before;
    const measured = lagS === trial.harvest.shiftLagS ? start : (measure(lagS) ?? start);
    const made = measured.map((file, k) => variantFile(file, chosen[k]!, cut[k]!, trial, grounds, excluded));
    byLag.set(lagS, made);
    return made;
  };
  return (varied) =>
    yieldsUnder(filesAt(varied.shiftLagS), { ...trial.harvest, ...varied }, trial, grounds, passes);
}

type Grounds = readonly (StripGround | null)[];

/** Where points lie and which passes strips use does not depend on the lag. */
function variantFile(
  measured: MeasuredFile,
  { strip, track, stretches, straddles }: JudgedFile,
  cutBefore: Float32Array | null,
  trial: TrialDocument,
  grounds: Grounds,
  excluded: ExcludedGround,
): VariantFile {
  const file = { ...measured, strip, track, stretches, straddles };
  const first = new Uint8Array(file.input.count);
  const context = {
    file,
    settings: trial.harvest,
    grounds,
    moistureLimits: moistureLimits(trial),
    cutBefore: null,
    excluded,
  };
  for (const [name, test] of pointScreens(context)) {
    if (test === null || !FIRST.includes(name)) continue;
    for (let i = 0; i < first.length; i++) if (first[i] === 0 && test(i)) first[i] = REASON_NUMBER[name];
  }
  return { file, first, masks: new Map(), cutBefore, excluded };
}

function yieldsUnder(
  files: readonly VariantFile[],
  settings: HarvestSettings,
  trial: TrialDocument,
  grounds: Grounds,
  passes: readonly PassesOfStrip[],
): readonly (number | null)[] {
  const screened = files.map((variant) => {
    const reason = variant.first.slice();
    for (const name of FURTHER) {
      const mask = maskOf(variant, name, settings, trial, grounds);
      if (mask === null) continue;
      for (let i = 0; i < reason.length; i++)
        if (reason[i] === 0 && mask[i] === 1) reason[i] = REASON_NUMBER[name];
    }
    return { file: variant.file, reason };
  });
  screenYieldLimits(screened, settings);
  if (settings.outlierRobustSd !== null) {
    for (const { file, reason } of screened) screenOutliers(file, reason, settings.outlierRobustSd);
    screenAcross(passes, screened, settings.outlierRobustSd);
  }
  const strips = trial.strips.map(({ id }, index) => ({ id, ground: grounds[index] ?? null }));
  return stripValues(screened, strips).strips.map(({ values }) => values.yield ?? null);
}

/** What one further screen says of the points that the first ones left; null where it is off. */
function maskOf(
  variant: VariantFile,
  name: (typeof FURTHER)[number],
  settings: HarvestSettings,
  trial: TrialDocument,
  grounds: Grounds,
): Uint8Array | null {
  const key = `${name} ${settingsOf(name, settings).join(' ')}`;
  const known = variant.masks.get(key);
  if (known !== undefined) return known;
  const { file, first, cutBefore, excluded } = variant;
  const context = { file, settings, grounds, moistureLimits: moistureLimits(trial), cutBefore, excluded };
  const test = pointScreens(context).find(([own]) => own === name)?.[1] ?? null;
  if (test === null) return null;
  const mask = new Uint8Array(first.length);
  for (let i = 0; i < mask.length; i++) if (first[i] === 0 && test(i)) mask[i] = 1;
  variant.masks.set(key, mask);
  return mask;
}

function settingsOf(name: (typeof FURTHER)[number], settings: HarvestSettings): readonly (number | null)[] {
  if (name === 'endMargin') return [settings.endMarginM];
  if (name === 'width') return [settings.widthShareMin];
  if (name === 'moisture') return [];
  return [settings.speedMinMPerS, settings.speedMaxMPerS, settings.speedChangePercent];
}
