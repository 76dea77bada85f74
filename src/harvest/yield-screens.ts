import type { HarvestSettings } from '../trial/trial-document.ts';
import { medianOf } from './logging-interval.ts';
import type { MeasuredFile } from './measured-file.ts';
import { medianOfLeft } from './median-of-left.ts';
import { REASON_NUMBER } from './point-screens.ts';

/** Points on each side that make up the running median of a pass. */
const HALF_WINDOW = 5;
/** The window, in order of size; each pass fills it anew. */
const WINDOW = new Float64Array(2 * HALF_WINDOW + 2);
/** Shorter passes have no running median to speak of. */
const FEWEST_IN_PASS = 5;
/** Makes the median absolute deviation of a normal sample estimate its standard deviation. */
const NORMAL_MAD = 1.4826;

/**
 * Sets yields outside the limits aside: below `yieldMinKgPerHa` (0: negative ones alone, true zeros stay) or above so
 * many times the median of the points that all files have left in the strips. Returns that median, null without points.
 */
export function screenYieldLimits(
  files: readonly { readonly file: MeasuredFile; readonly reason: Uint8Array }[],
  settings: HarvestSettings,
): number | null {
  const median = medianOfLeft(files);
  const least = settings.yieldMinKgPerHa ?? Number.NEGATIVE_INFINITY;
  const most =
    settings.yieldMaxTimesMedian === null || median === null || median <= 0
      ? Number.POSITIVE_INFINITY
      : settings.yieldMaxTimesMedian * median;
  for (const { file, reason } of files) {
    const values = file.yieldAtStandardKgPerHa;
    for (let i = 0; i < values.length; i++) {
      if (reason[i] === 0 && (values[i]! < least || values[i]! > most)) reason[i] = REASON_NUMBER.yield;
    }
  }
  return median;
}

/**
 * Sets yields aside that stand out from the running median of their own pass by more than so many robust standard
 * deviations (1.4826 times the median absolute residual of that pass). A pass is an unbroken run of the log inside
 * one strip, so that no point is judged by ground of another treatment. A pass whose middle residual is 0 has no
 * spread to judge by and stays whole. Zeros in a row are ground without crop: they stay, and nothing is judged by them;
 * a zero alone is judged like any other value, since grain that mixes on its way never stops for one reading.
 */
export function screenOutliers(file: MeasuredFile, reason: Uint8Array, robustSds: number): void {
  for (const pass of passes(file, reason)) screenPass(file.yieldAtStandardKgPerHa, reason, pass, robustSds);
}

function screenPass(values: Float64Array, reason: Uint8Array, pass: Int32Array, robustSds: number): void {
  if (pass.length < FEWEST_IN_PASS) return;
  const residuals = residualsOf(values, pass);
  const limit = robustSds * NORMAL_MAD * (medianOf(residuals.slice()) ?? 0);
  if (limit === 0) return;
  for (let k = 0; k < pass.length; k++) {
    if (residuals[k]! > limit) reason[pass[k]!] = REASON_NUMBER.outlier;
  }
}

/** What each value lies away from the median of those within reach of it. */
function residualsOf(values: Float64Array, pass: Int32Array): Float64Array {
  const residuals = new Float64Array(pass.length);
  let count = 0;
  for (let k = 0; k < Math.min(HALF_WINDOW, pass.length); k++) count = putIn(values[pass[k]!]!, count);
  for (let k = 0; k < pass.length; k++) {
    const [entering, leaving] = [k + HALF_WINDOW, k - HALF_WINDOW - 1];
    if (entering < pass.length) count = putIn(values[pass[entering]!]!, count);
    if (leaving >= 0) count = takeOut(values[pass[leaving]!]!, count);
    residuals[k] = Math.abs(values[pass[k]!]! - WINDOW[(count - 1) >> 1]!);
  }
  return residuals;
}

function putIn(value: number, count: number): number {
  let place = count;
  for (; place > 0 && WINDOW[place - 1]! > value; place--) WINDOW[place] = WINDOW[place - 1]!;
  WINDOW[place] = value;
  return count + 1;
}

function takeOut(value: number, count: number): number {
  let place = 0;
  while (place < count - 1 && WINDOW[place] !== value) place++;
  for (; place < count - 1; place++) WINDOW[place] = WINDOW[place + 1]!;
  return count - 1;
}

/**
 * The kept points of each pass, in the order driven. A turn, a lifted header or ground outside ends a pass. All are
 * given in one place, which the next one writes over.
 */
function* passes(file: MeasuredFile, reason: Uint8Array): Generator<Int32Array> {
  const { strip, interval } = file;
  const { headerUp, turning } = REASON_NUMBER;
  const kept = new Int32Array(reason.length);
  let count = 0;
  for (let i = 0; i < reason.length; i++) {
    const isBroken =
      i > 0 &&
      (strip[i] !== strip[i - 1] ||
        interval.run[i] !== interval.run[i - 1] ||
        reason[i] === headerUp ||
        reason[i] === turning);
    if (isBroken && count > 0) {
      yield kept.subarray(0, count);
      count = 0;
    }
    if (reason[i] === 0 && !isBareGround(file, i)) kept[count++] = i;
  }
  if (count > 0) yield kept.subarray(0, count);
}

function isBareGround(
  { yieldAtStandardKgPerHa: values, interval: { run } }: MeasuredFile,
  i: number,
): boolean {
  if (values[i] !== 0) return false;
  const isAlso = (other: number) => values[other] === 0 && run[other] === run[i];
  return isAlso(i - 1) || isAlso(i + 1);
}
