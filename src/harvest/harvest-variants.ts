import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { cutBeforeM } from './cut-before.ts';
import { excludedGround, type OffPlan } from './excluded-ground.ts';
import { harvestGround } from './harvest-ground.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { type MeasuredFile, measureFile } from './measured-file.ts';
import { passesOfStrips, screenAcross } from './outliers-across.ts';
import { ownOfFile } from './own-of-file.ts';
import { moistureLimits, pointScreens, REASON_NUMBER, type ScreenContext } from './point-screens.ts';
import { SET_ASIDE_REASONS, type SetAsideReason } from './strip-values.ts';
import { stripYields } from './strip-yields.ts';
import { screenOutliers, screenYieldLimits } from './yield-screens.ts';

/** Settings that a variant may change; all others stand as the trial has them. */
export type VariedSettings = Pick<
  HarvestSettings,
  | 'shiftLagS'
  | 'endMarginM'
  | 'sideMarginM'
  | 'positionScreen'
  | 'turnDegrees'
  | 'speedMinMPerS'
  | 'speedMaxMPerS'
  | 'speedChangePercent'
  | 'widthShareMin'
  | 'cutBeforeScreen'
  | 'moistureMinPercent'
  | 'moistureMaxPercent'
  | 'yieldMinKgPerHa'
  | 'yieldMaxTimesMedian'
  | 'outlierRobustSd'
  | 'acrossScreen'
>;

/** One yield a strip (kg/ha at standard moisture, null: none) under changed settings, as `harvestPoints` gives them. */
export type HarvestUnder = (varied: VariedSettings) => readonly (number | null)[];

/** All but the screens of yields and outliers, which need what these leave; points outside have no strip to be judged in. */
const JUDGED_ALONE = SET_ASIDE_REASONS.slice(0, SET_ASIDE_REASONS.indexOf('yield')).filter(
  (name) => name !== 'outsideStrips',
);
/** What these say hangs on the lag, since it moves yields and moistures. */
const BY_LAG: readonly SetAsideReason[] = ['unreadable', 'moisture'];

/** What settings each screen asks; those that are not named ask none. */
const ASKED: Readonly<Partial<Record<SetAsideReason, readonly (keyof VariedSettings)[]>>> = {
  unreadable: ['positionScreen'],
  sideMargin: ['sideMarginM'],
  turning: ['turnDegrees'],
  endMargin: ['endMarginM'],
  speed: ['speedMinMPerS', 'speedMaxMPerS', 'speedChangePercent'],
  width: ['widthShareMin', 'cutBeforeScreen'],
  moisture: ['moistureMinPercent', 'moistureMaxPercent'],
};

/**
 * Prepares a harvest to be asked again and again under other settings: points are placed once, passes assigned once a side
 * margin, flow is shifted once a lag, each screen is run once a setting. null where `harvestPoints` would refuse the files.
 */
export function harvestVariants(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  offPlan: OffPlan | null = null,
): HarvestUnder | null {
  const known = harvestGround(trial, files);
  if (!known.ok) return null;
  const { frame, grounds, place, choose } = known.value;
  const placed = files.map(place);
  if (placed.every(({ strip }) => strip.every((index) => index < 0))) return null;
  const measure = (shiftLagS: number): readonly MeasuredFile[] | null => {
    const measured = placed.map((file) =>
      measureFile(
        file,
        { ...trial.harvest, positionScreen: true },
        trial.standardMoisturePercent,
        ownOfFile(trial, file.input.file, shiftLagS - trial.harvest.shiftLagS),
      ),
    );
    const complete = measured.filter((file): file is MeasuredFile => !('missing' in file));
    return complete.length < placed.length ? null : complete;
  };
  const start = measure(trial.harvest.shiftLagS);
  if (start === null) return null;
  const measuredAt = kept((lagS: number) =>
    lagS === trial.harvest.shiftLagS ? start : (measure(lagS) ?? start),
  );
  // Where points lie and which passes strips use does not depend on the lag.
  const chosenAt = kept((sideMarginM: number) => choose(start, { ...trial.harvest, sideMarginM }).files);
  const passesAt = kept((sideMarginM: number) => passesOfStrips(chosenAt(sideMarginM), grounds, true));
  const cutBefore = chosenAt(trial.harvest.sideMarginM).map((file) => cutBeforeM(file, grounds));
  const excluded = excludedGround(trial, grounds, frame, offPlan);
  const masks = files.map(() => new Map<string, Uint8Array | null>());

  return (varied) => {
    const settings = { ...trial.harvest, ...varied };
    const measured = measuredAt(settings.shiftLagS);
    const screened = chosenAt(settings.sideMarginM).map(({ strip, track, stretches, straddles }, k) => {
      const file = { ...measured[k]!, strip, track, stretches, straddles };
      const context = {
        file: settings.positionScreen === false ? { ...file, positionFaults: null } : file,
        settings,
        grounds,
        moistureLimits: moistureLimits({ crop: trial.crop, harvest: settings }),
        cutBefore: settings.cutBeforeScreen === false ? null : cutBefore[k]!,
        excluded,
      };
      return { file, reason: reasonsIn(context, masks[k]!) };
    });
    screenYieldLimits(screened, settings);
    if (settings.outlierRobustSd !== null) {
      for (const { file, reason } of screened) screenOutliers(file, reason, settings.outlierRobustSd);
      if (settings.acrossScreen !== false)
        screenAcross(passesAt(settings.sideMarginM), screened, settings.outlierRobustSd);
    }
    return stripYields(screened, trial.strips.length);
  };
}

/** The first reason of each point, by the screens that judge it alone. */
function reasonsIn(context: ScreenContext, masks: Map<string, Uint8Array | null>): Uint8Array {
  const { strip } = context.file;
  const reason = new Uint8Array(strip.length);
  for (let i = 0; i < reason.length; i++) if (strip[i]! < 0) reason[i] = REASON_NUMBER.outsideStrips;
  for (const name of JUDGED_ALONE) {
    const mask = maskOf(name, context, masks);
    if (mask === null) continue;
    const number = REASON_NUMBER[name];
    for (let i = 0; i < reason.length; i++) if (reason[i] === 0 && mask[i] === 1) reason[i] = number;
  }
  return reason;
}

/** What one screen says of the points in strips; null where it is off, or says nothing. */
function maskOf(
  name: SetAsideReason,
  context: ScreenContext,
  masks: Map<string, Uint8Array | null>,
): Uint8Array | null {
  const { settings, file } = context;
  const asked = [...(ASKED[name] ?? []), ...(BY_LAG.includes(name) ? (['shiftLagS'] as const) : [])];
  const key = [name, ...asked.map((setting) => settings[setting] ?? 'own')].join(' ');
  const known = masks.get(key);
  if (known !== undefined) return known;
  const test = pointScreens(context).find(([own]) => own === name)?.[1] ?? null;
  const mask = test === null ? null : saidOf(test, file.strip);
  masks.set(key, mask);
  return mask;
}

function saidOf(test: (i: number) => boolean, strip: Int32Array): Uint8Array | null {
  const mask = new Uint8Array(strip.length);
  let said = 0;
  for (let i = 0; i < mask.length; i++) {
    if (strip[i]! < 0 || !test(i)) continue;
    mask[i] = 1;
    said += 1;
  }
  return said === 0 ? null : mask;
}

function kept<Key, Value>(make: (key: Key) => Value): (key: Key) => Value {
  const made = new Map<Key, Value>();
  return (key) => {
    const before = made.get(key);
    if (before !== undefined) return before;
    const value = make(key);
    made.set(key, value);
    return value;
  };
}
