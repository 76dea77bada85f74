import { inRadians } from '../geometry/angle.ts';
import { acrossM, alongM, distanceToEndM, distanceToSideM } from '../geometry/oriented-strip.ts';
import { ANY_GRAIN_MOISTURE, findCrop } from '../trial/crops.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { type CutStretch, type ExcludedGround, isCutOut } from './excluded-ground.ts';
import type { MeasuredFile } from './measured-file.ts';
import type { JudgedFile } from './pass-choice.ts';
import { type StripGround, sideMarginOf } from './strip-ground.ts';
import { SET_ASIDE_REASONS, type SetAsideReason } from './strip-values.ts';
import { turnBetween } from './travel-heading.ts';

/** What a screen needs: the file, its settings, and the ground of each of the trial's strips (by index). */
export interface ScreenContext {
  readonly file: JudgedFile;
  readonly settings: HarvestSettings;
  readonly grounds: readonly (StripGround | null)[];
  readonly moistureLimits: MoistureLimits;
  /** Metres of the header over ground cut before; null: not known, or not asked for. */
  readonly cutBefore: Float32Array | null;
  readonly excluded: ExcludedGround;
}

export interface MoistureLimits {
  readonly minPercent: number;
  readonly maxPercent: number;
}

/** The settings' limits; where they leave one open, the crop's own; for an unknown crop those of any grain. */
export function moistureLimits(trial: Pick<TrialDocument, 'crop' | 'harvest'>): MoistureLimits {
  const crop = findCrop(trial.crop);
  return {
    minPercent: trial.harvest.moistureMinPercent ?? crop?.moistureMinPercent ?? ANY_GRAIN_MOISTURE.minPercent,
    maxPercent: trial.harvest.moistureMaxPercent ?? crop?.moistureMaxPercent ?? ANY_GRAIN_MOISTURE.maxPercent,
  };
}

/** Number under which a reason stands in `PlacedPoints.reason`; 0 is kept. */
export const REASON_NUMBER = Object.fromEntries(
  SET_ASIDE_REASONS.map((reason, index) => [reason, index + 1]),
) as Readonly<Record<SetAsideReason, number>>;

type PointTest = (i: number) => boolean;

/**
 * The screens that look at a point and its neighbours in the log, in the order of reasons. A null test is off, or
 * has nothing to look at. The yield and outlier screens follow elsewhere: they need what these leave.
 */
export function pointScreens(
  context: ScreenContext,
): readonly (readonly [SetAsideReason, PointTest | null])[] {
  return [
    ['unreadable', unreadableTest(context)],
    ['outsideStrips', (i) => context.file.strip[i]! < 0],
    ['sideMargin', sideMarginTest(context)],
    ['headerUp', headerUpTest(context)],
    ['turning', turningTest(context)],
    ['cutFromBlock', excludedTest(context, context.excluded.fromBlock)],
    ['cutFromStrip', excludedTest(context, context.excluded.fromStrip)],
    ['appliedOtherwise', excludedTest(context, context.excluded.offPlan)],
    ['endMargin', endMarginTest(context)],
    ['speed', speedTest(context)],
    ['width', widthTest(context)],
    ['moisture', moistureTest(context)],
  ];
}

/** Writes the first reason that applies to each point that has none yet. */
export function applyScreens(reason: Uint8Array, context: ScreenContext): void {
  for (const [name, test] of pointScreens(context)) {
    if (test === null) continue;
    const number = REASON_NUMBER[name];
    for (let i = 0; i < reason.length; i++) if (reason[i] === 0 && test(i)) reason[i] = number;
  }
}

/** No position or one that is not to be trusted, no yield, or no ground to put it on. Missing moisture and standing still have reasons of their own. */
function unreadableTest({ file }: ScreenContext): PointTest {
  const { eastM, northM, recordedYield, ground, positionFaults } = file;
  return (i) =>
    !Number.isFinite(eastM[i]! + northM[i]!) ||
    (positionFaults !== null && positionFaults[i] !== 0) ||
    Number.isNaN(ground.ground[i]!) ||
    (!Number.isFinite(recordedYield[i]!) && ground.ground[i] !== 0);
}

/** By the whole pass where footprints are known; on turns, and where only positions are, by the point itself. */
function sideMarginTest(context: ScreenContext): PointTest {
  const { straddles, track } = context.file;
  const isNear = nearSideTest(context);
  if (straddles === null) return isNear;
  return (i) => (track.passOfPoint[i]! < 0 ? isNear(i) : straddles[i] === 1);
}

function nearSideTest({ file, settings, grounds }: ScreenContext): PointTest {
  const margins = grounds.map((strip) => (strip === null ? 0 : sideMarginOf(strip, settings, file.headerM)));
  return (i) => {
    const index = file.strip[i]!;
    const margin = margins[index]!;
    if (margin === 0) return false;
    const { oriented } = grounds[index]!;
    const along = alongM(oriented, file.eastM[i]!, file.northM[i]!);
    return distanceToSideM(oriented, along, acrossM(oriented, file.eastM[i]!, file.northM[i]!)) < margin;
  };
}

/** In a stretch that is cut out, with the footprint where it is known. */
function excludedTest({ file }: ScreenContext, cut: readonly (readonly CutStretch[])[]): PointTest | null {
  if (cut.every((stretches) => stretches.length === 0)) return null;
  const lengthM = file.straddles === null ? null : file.ground.drivenM;
  return (i) => {
    const stretches = cut[file.strip[i]!]!;
    if (stretches.length === 0) return false;
    return isCutOut(stretches, {
      eastM: file.eastM[i]!,
      northM: file.northM[i]!,
      headingDegrees: file.trackHeadingDegrees[i]!,
      lengthM: lengthM?.[i] ?? Number.NaN,
    });
  };
}

/** The point, and where its footprint is known the footprint's rear too, must keep the margin from both ends. */
function endMarginTest({ file, settings, grounds }: ScreenContext): PointTest | null {
  const { endMarginM } = settings;
  if (endMarginM === 0) return null;
  const lengthM = file.straddles === null ? null : file.ground.drivenM;
  return (i) => {
    const { oriented } = grounds[file.strip[i]!]!;
    const along = alongM(oriented, file.eastM[i]!, file.northM[i]!);
    const across = acrossM(oriented, file.eastM[i]!, file.northM[i]!);
    const endM = distanceToEndM(oriented, along, across);
    if (endM < endMarginM) return true;
    if (lengthM === null || endM >= endMarginM + lengthM[i]!) return false;
    const heading = inRadians(file.trackHeadingDegrees[i]!);
    const aheadM = oriented.alongEast * Math.sin(heading) + oriented.alongNorth * Math.cos(heading);
    return distanceToEndM(oriented, along - aheadM * lengthM[i]!, across) < endMarginM;
  };
}

function headerUpTest({ file }: ScreenContext): PointTest | null {
  const { headerDown } = file.input;
  return headerDown === null ? null : (i) => headerDown[i] === 0;
}

/** Turning: within `turnWithinS` before or after, the heading differs by more than `turnDegrees`. */
function turningTest({ file, settings }: ScreenContext): PointTest | null {
  const { turnDegrees, turnWithinS } = settings;
  if (turnDegrees === null) return null;
  const { headingDegrees } = file;
  const turns = (i: number, step: number) =>
    turnBetween(headingDegrees[i]!, headingDegrees[farthestWithin(file, i, step, turnWithinS)]!) >
    turnDegrees;
  return (i) => turns(i, -1) || turns(i, 1);
}

/** The last point of the same run that is at most so many seconds away, in one direction. */
function farthestWithin(file: MeasuredFile, i: number, step: number, withinS: number): number {
  const { run, secondsAt } = file.interval;
  let at = i;
  let awayS = 0;
  for (let next = i + step; next >= 0 && next < run.length && run[next] === run[i]; next += step) {
    awayS += secondsAt(step > 0 ? next : next + 1);
    if (awayS > withinS + 1e-9) break;
    at = next;
  }
  return at;
}

/** Standing still counts whatever the limits: mass without ground belongs nowhere. */
function speedTest({ file, settings }: ScreenContext): PointTest {
  const { speedMinMPerS, speedMaxMPerS, speedChangePercent } = settings;
  const speed = file.speedMPerS;
  const { ground } = file.ground;
  const { run } = file.interval;
  return (i) => {
    if (ground[i] === 0) return true;
    if (speed === null) return false;
    const here = speed[i]!;
    if (speedMinMPerS !== null && here < speedMinMPerS) return true;
    if (speedMaxMPerS !== null && here > speedMaxMPerS) return true;
    if (speedChangePercent === null || i === 0 || run[i] !== run[i - 1]) return false;
    return Math.abs(here - speed[i - 1]!) > (speedChangePercent / 100) * speed[i - 1]!;
  };
}

/** A receiver's drift of a metre must not pass for ground cut before. */
const DRIFT_M = 1;

/** Against the recorded width, and against ground that earlier passes had cut. */
function widthTest({ file, settings, cutBefore }: ScreenContext): PointTest | null {
  const { widthM } = file.input;
  const { widthShareMin } = settings;
  if (widthShareMin === null || file.headerM === null) return null;
  const least = widthShareMin * file.headerM;
  const mostTakenM = file.headerM - least + DRIFT_M;
  return (i) => (widthM !== null && widthM[i]! < least) || (cutBefore !== null && cutBefore[i]! > mostTakenM);
}

/** Outside the limits, at 0 or 100 %, or missing where the yield needs it. */
function moistureTest({ file, moistureLimits: { minPercent, maxPercent } }: ScreenContext): PointTest | null {
  const moisture = file.moisturePercent;
  if (moisture === null) return null;
  const isNeeded = file.correction.kind === 'byPoint';
  return (i) => {
    const percent = moisture[i]!;
    if (Number.isNaN(percent)) return isNeeded;
    return percent <= 0 || percent >= 100 || percent < minPercent || percent > maxPercent;
  };
}
