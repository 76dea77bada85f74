import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { localProjection } from '../geometry/local-projection.ts';
import { commonAcross } from '../geometry/place-across.ts';
import { polygonFinder } from '../geometry/polygon-finder.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { cutPasses } from './harvest-passes.ts';
import { disagreementOf, type LagSignal, type NeighbourPair, neighbourPairs } from './lag-pairs.ts';
import {
  type FieldAxis,
  LONGEST_LAG_S,
  type LoggedPass,
  type StationedPass,
  stationedPass,
} from './lag-passes.ts';
import { type MeasuredFile, measureFile } from './measured-file.ts';
import { numberedField, placedInPasses } from './numbered-field.ts';
import { type PlacedFile, placeFile } from './placed-file.ts';
import { stripGrounds } from './strip-ground.ts';

/** Why the data cannot tell the lag. */
export type LagUnknown =
  | 'noTime'
  | 'noSignal'
  /** Too few pairs of neighbouring passes in opposite directions that are long enough. */
  | 'tooFewPairs'
  | 'allOneWay'
  /** Neighbouring passes do not agree for any lag better than by chance, or for too many lags alike. */
  | 'noClearLeast'
  | 'atTheEdge';

export type LagAnswer =
  | {
      readonly kind: 'lag';
      /** Seconds by which the file's signal is still late; what `shiftLagS` would move back. */
      readonly lagS: number;
      readonly lowerS: number;
      readonly upperS: number;
      readonly curve: readonly LagCurvePoint[];
      readonly pairs: number;
    }
  | {
      readonly kind: 'cannotTell';
      readonly why: LagUnknown;
      readonly curve: readonly LagCurvePoint[];
      readonly pairs: number;
    };

/** `disagreement`: 0 when neighbouring passes agree, 1 when they have nothing in common. */
export interface LagCurvePoint {
  readonly lagS: number;
  readonly disagreement: number;
}

export interface LagEstimate {
  readonly file: string;
  readonly flow: LagAnswer;
  /** null: the file has no moisture. */
  readonly moisture: LagAnswer | null;
}

const STEP_S = 0.5;
const FEWEST_PAIRS = 4;
/** The interval holds every lag that is not worse than the best at this one-sided level, over pairs. */
const INTERVAL_LEVEL = 0.05;
/** An interval that reaches farther than this to either side tells too little. */
const WIDEST_S = 3;
/** The best lag must make neighbouring passes agree beyond chance at this level. */
const AGREEMENT_LEVEL = 0.001;

/**
 * By how many seconds is the signal of each file late (or early)? Neighbouring passes driven in opposite directions
 * cross the same ground, so the right lag makes them agree: least semivariance between them, over the variance
 * within them, after each pass's own mean is taken out (so that a treatment cannot speak). Half-second steps.
 *
 * Method: the geostatistical one of S. O. Chung, K. A. Sudduth & S. T. Drummond 2002, Trans. ASAE 45:915-926 (from
 * memory), refined between steps by a parabola. The interval holds every lag whose disagreement is not
 * significantly above the least by a paired t over pairs; where it is wide, or even the best lag gives no agreement
 * beyond chance, the answer is "cannot tell". What is found is the mean delay: transit and mixing together. Lags
 * from -15 to 15 s are tried, since most exports are shifted already. With all passes one way it cannot be told.
 *
 * Nothing is applied: the result is for the user, who may set `shiftLagS`. Where no strip has a polygon, the way that
 * the passes run takes the place of the strips' own; refused is then what `numberedField` refuses.
 */
export function estimateLag(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
): Outcome<readonly LagEstimate[]> {
  const ground = lagGround(trial, files);
  if (!ground.ok) return ground;
  const { axis, place } = ground.value;
  const settings = { ...trial.harvest, shiftLagS: 0, shiftMoistureS: null };
  return success(
    files.map((file, index) => {
      if (file.timeS === null) return unknownFor(file, 'noTime');
      const measured = measureFile(place(file, index), settings, null);
      if ('missing' in measured || measured.ground.drivenM === null) return unknownFor(file, 'noSignal');
      return estimateFor(measured, axis);
    }),
  );
}

interface LagGround {
  readonly axis: FieldAxis;
  readonly place: (file: HarvestPointsInput, index: number) => PlacedFile;
}

function lagGround(trial: TrialDocument, files: readonly HarvestPointsInput[]): Outcome<LagGround> {
  const frame = frameOfStrips(trial.strips);
  if (frame === null) return lagGroundByPass(files);
  const grounds = stripGrounds(trial.strips, frame);
  const finder = polygonFinder(grounds.map(({ polygon }) => polygon));
  const [east, north] = commonAcross(grounds.map(({ oriented }) => oriented));
  return success({
    axis: { centreEastM: 0, centreNorthM: 0, alongEast: -north, alongNorth: east },
    place: (file) => placeFile(file, localProjection(frame), finder),
  });
}

function lagGroundByPass(files: readonly HarvestPointsInput[]): Outcome<LagGround> {
  const numbered = numberedField(files);
  if (!numbered.ok) return numbered;
  const [alongEast, alongNorth] = numbered.value.field.along;
  const placed = placedInPasses(numbered.value);
  return success({
    axis: { centreEastM: 0, centreNorthM: 0, alongEast, alongNorth },
    place: (_, index) => placed[index]!,
  });
}

function unknownFor(file: HarvestPointsInput, why: LagUnknown): LagEstimate {
  const answer = unknown(why, 0);
  return { file: file.file, flow: answer, moisture: file.moisturePercent === null ? null : answer };
}

function estimateFor(file: MeasuredFile, axis: FieldAxis): LagEstimate {
  const passes = loggedPasses(file).flatMap((logged) => stationedPass(logged, axis) ?? []);
  const pairs = neighbourPairs(passes, file.headerM ?? 0);
  const answer = (signal: LagSignal) => answerFrom(passes, pairs, signal);
  return {
    file: file.input.file,
    flow: answer('flow'),
    moisture: file.input.moisturePercent === null ? null : answer('moisture'),
  };
}

function loggedPasses(file: MeasuredFile): readonly LoggedPass[] {
  const { eastM, northM, interval, input, recordedYield, ground } = file;
  const { secondsAt, run } = interval;
  const { spans } = cutPasses({ eastM, northM, run, headingDegrees: file.trackHeadingDegrees });
  const groundPerS = ground.ground.map((m2, i) => m2 / secondsAt(i));
  const flow = recordedYield.map((kgPerHa, i) => (groundPerS[i]! > 0 ? kgPerHa * groundPerS[i]! : 0));
  return spans.map(({ first, end }) => ({
    timeS: input.timeS!.subarray(first, end),
    eastM: eastM.subarray(first, end),
    northM: northM.subarray(first, end),
    flow: flow.subarray(first, end),
    groundPerS: groundPerS.subarray(first, end),
    moisturePercent: input.moisturePercent?.subarray(first, end) ?? null,
  }));
}

const LAGS_S = Array.from({ length: (2 * LONGEST_LAG_S) / STEP_S + 1 }, (_, k) => k * STEP_S - LONGEST_LAG_S);

function answerFrom(
  passes: readonly StationedPass[],
  pairs: readonly NeighbourPair[],
  signal: LagSignal,
): LagAnswer {
  const isOneWay = passes.every(({ direction }) => direction === passes[0]!.direction);
  if (passes.length > 1 && isOneWay) return unknown('allOneWay', pairs.length);
  if (pairs.length < FEWEST_PAIRS) return unknown('tooFewPairs', pairs.length);
  const all = pairs.map((pair) => LAGS_S.map((lagS) => disagreementOf(pair, signal, lagS)));
  const byPair = all.filter((curve) => curve.every(Number.isFinite));
  if (byPair.length < FEWEST_PAIRS) return unknown('noSignal', byPair.length);
  const curve = LAGS_S.map((lagS, k) => ({ lagS, disagreement: meanOf(byPair.map((own) => own[k]!)) }));
  return leastOf(curve, byPair);
}

function unknown(why: LagUnknown, pairs: number, curve: readonly LagCurvePoint[] = []): LagAnswer {
  return { kind: 'cannotTell', why, curve, pairs };
}

/** The lag of the least disagreement, where it stands out from chance and from the other lags. */
function leastOf(curve: readonly LagCurvePoint[], byPair: readonly (readonly number[])[]): LagAnswer {
  const pairs = byPair.length;
  const best = curve.reduce(
    (at, { disagreement }, k) => (disagreement < curve[at]!.disagreement ? k : at),
    0,
  );
  if (best === 0 || best === curve.length - 1) return unknown('atTheEdge', pairs, curve);
  const agreement = tOf(byPair.map((own) => 1 - own[best]!));
  if (agreement < tUpperQuantile(AGREEMENT_LEVEL, pairs - 1)) return unknown('noClearLeast', pairs, curve);
  const worst = tUpperQuantile(INTERVAL_LEVEL, pairs - 1);
  const alike = LAGS_S.filter((_, k) => tOf(byPair.map((own) => own[k]! - own[best]!)) < worst);
  // Half a step wider, since lags between the steps were not tried.
  const lowerS = Math.min(...alike) - STEP_S / 2;
  const upperS = Math.max(...alike) + STEP_S / 2;
  const isWide = LAGS_S[best]! - lowerS > WIDEST_S || upperS - LAGS_S[best]! > WIDEST_S;
  if (isWide) return unknown('noClearLeast', pairs, curve);
  return { kind: 'lag', lagS: refined(curve, best), lowerS, upperS, curve, pairs };
}

/** Lowest point of the parabola through the best lag and its neighbours. */
function refined(curve: readonly LagCurvePoint[], best: number): number {
  const [before, here, after] = [best - 1, best, best + 1].map((k) => curve[k]!.disagreement) as [
    number,
    number,
    number,
  ];
  const bend = before - 2 * here + after;
  return curve[best]!.lagS + (bend > 0 ? (STEP_S * (before - after)) / (2 * bend) : 0);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Mean over its standard error; 0 where all are 0. */
function tOf(values: readonly number[]): number {
  const middle = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  const error = Math.sqrt(squares / (values.length - 1) / values.length);
  return middle === 0 ? 0 : middle / error;
}
