import type { LocalFrame } from '../geometry/local-projection.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { cutBeforeM } from './cut-before.ts';
import { doubtfulPositions } from './doubtful-positions.ts';
import { emptyStripProblems } from './empty-strips.ts';
import { crossingAreas, type ExcludedGround, excludedGround, type OffPlan } from './excluded-ground.ts';
import { exclusionBalance } from './exclusion-balance.ts';
import { farPoints } from './far-points.ts';
import { type HarvestGround, harvestGround } from './harvest-ground.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { headerProblems } from './header-problems.ts';
import { type HarvestConditions, harvestConditions, liningUp } from './lining-up.ts';
import { type MeasuredFile, measureFile } from './measured-file.ts';
import { offPlanBalance } from './off-plan-balance.ts';
import { passesOfStrips, screenAcross } from './outliers-across.ts';
import { ownOfFile } from './own-of-file.ts';
import type { ChosenPasses, JudgedFile } from './pass-choice.ts';
import type { HarvestPass } from './pass-placement.ts';
import type { PlacedFile } from './placed-file.ts';
import { type PointFacts, pointFacts } from './point-facts.ts';
import type { MassUnknown } from './point-mass.ts';
import { applyScreens, moistureLimits } from './point-screens.ts';
import type { Assumption } from './problem-codes.ts';
import { balanceProblems, type SetAsideBalance, setAsideBalance } from './set-aside-balance.ts';
import type { StripGround } from './strip-ground.ts';
import { type CutInStrip, type PointCounts, type ScreenedFile, stripValues } from './strip-sums.ts';
import type { PlacedPoints, ResponseOfStrips, StripValue, Weighing } from './strip-values.ts';
import { screenOutliers, screenYieldLimits } from './yield-screens.ts';

/** What the points of a harvest come to. */
export interface PointHarvest {
  /** One for each strip of the trial, in the trial's order. */
  readonly strips: readonly StripValue[];
  readonly responses: readonly ResponseOfStrips[];
  readonly placed: PlacedPoints;
  readonly frame: LocalFrame;
  readonly weighing: Weighing;
  /** Over all files; kept and set aside add up to read, here and in each strip. */
  readonly totals: PointCounts;
  /** Median of the point yields that the yield limits were taken from; null without points. */
  readonly fieldMedianKgPerHa: number | null;
  readonly assumptions: readonly Assumption[];
  /** Numbered in the order driven, file after file, each with the strips that it was driven in. */
  readonly passes: readonly HarvestPass[];
  /** Number of the pass of each point, in the order of `placed`; 0: on a turn, or without a position. */
  readonly passOfPoint: () => Int32Array;
  /** By index in `placed`. */
  readonly factsOfPoint: (point: number) => PointFacts | null;
  readonly setAsideBalance: SetAsideBalance;
  /** One a strip: all that its passes cut in it, before any screen; null where the ground is not known in m². */
  readonly cut: readonly (CutInStrip | null)[];
  readonly conditions: HarvestConditions;
}

/**
 * Which yield does each strip have, from the points of a yield monitor? Places the points in the strips, moves the
 * lag back, sets unfit points aside (one reason each, in the order of SET_ASIDE_REASONS), brings yields to standard
 * moisture and divides mass by area. `offPlan`: stretches that are not used, since they did not get what was planned.
 *
 * `onProgress` gets a share from 0 to 1; `isCancelled` is asked between steps and ends the work with the problem
 * `harvestCancelled`. Refuses as `harvestGround` does, and with `pointsFarFromStrips`, `noYieldInFile`,
 * `groundUnknown`, `exclusionCrossesItself`.
 */
export function harvestPoints(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  onProgress: (share: number) => void = () => undefined,
  isCancelled: () => boolean = () => false,
  offPlan: OffPlan | null = null,
): Outcome<PointHarvest> {
  const known = harvestGround(trial, files);
  if (!known.ok) return known;
  const crossing = crossingAreas(trial);
  if (crossing.length > 0) return failure(...crossing);
  const { frame, grounds, isDrawn } = known.value;
  const judged = judgedFiles(trial, files, known.value, onProgress, isCancelled);
  if (!judged.ok) return judged;
  const chosen = judged.value;
  const screened = chosen.files.map((file) => ({ file, reason: new Uint8Array(file.input.count) }));
  const excluded = excludedGround(trial, grounds, frame, offPlan);
  const fieldMedianKgPerHa = screen(screened, trial, grounds, excluded);
  onProgress(0.9);
  if (isCancelled()) return failure(problem('note', 'harvestCancelled'));

  const summary = stripValues(
    screened,
    trial.strips.map(({ id }, index) => ({ id, ground: isDrawn ? grounds[index]! : null })),
  );
  const balance = setAsideBalance(trial, summary.strips);
  const conditions = harvestConditions(trial, chosen.files);
  onProgress(1);
  return success(
    {
      ...summary,
      responses: responsesOf(chosen.files),
      placed: placedPoints(screened),
      frame,
      fieldMedianKgPerHa,
      assumptions: [...known.value.assumptions, ...chosen.files.flatMap(({ assumptions }) => assumptions)],
      passes: chosen.passes,
      passOfPoint: () => passNumbers(chosen.files),
      factsOfPoint: (point) =>
        pointFacts({ files: chosen.files, ground: known.value, settings: trial.harvest }, point),
      setAsideBalance: balance,
      conditions,
    },
    [
      ...known.value.problems,
      ...judged.problems,
      ...shiftProblems(trial, files),
      ...doubtfulPositions(chosen.files),
      ...chosen.problems,
      ...(isDrawn ? headerProblems(screened, grounds) : []),
      ...emptyStripProblems(summary.strips.filter((_, index) => grounds[index] !== null)),
      ...balanceProblems(balance),
      ...excluded.problems,
      ...exclusionBalance(trial, summary.strips),
      ...offPlanBalance(trial, summary.strips, offPlan),
      ...liningUp(trial, conditions),
    ],
  );
}

/**
 * Each file placed, measured and cut into passes, with the passes that the strips use. A function of its own, so that
 * the strips in which points were placed at first are let go: for ten million points that is memory to speak of.
 */
function judgedFiles(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
  known: HarvestGround,
  onProgress: (share: number) => void,
  isCancelled: () => boolean,
): Outcome<ChosenPasses> {
  const { frame, isDrawn } = known;
  const placed: PlacedFile[] = [];
  for (const file of files) {
    if (isCancelled()) return failure(problem('note', 'harvestCancelled'));
    placed.push(known.place(file, placed.length));
    onProgress((0.4 * placed.length) / files.length);
  }
  const far = isDrawn ? placed.filter(({ strip }) => strip.every((index) => index < 0)) : [];
  if (far.length === placed.length) {
    return failure(...far.map(({ input }) => farPoints(input, frame, 'error')));
  }
  const measured = placed.map((file) =>
    measureFile(file, trial.harvest, trial.standardMoisturePercent, ownOfFile(trial, file.input.file)),
  );
  const unknown = measured.flatMap((result, i) =>
    isUnmeasured(result) ? [massProblem(result, placed[i]!.input.file)] : [],
  );
  if (unknown.length > 0) return failure(...unknown);
  onProgress(0.5);
  if (isCancelled()) return failure(problem('note', 'harvestCancelled'));
  const complete = measured.filter((result): result is MeasuredFile => !isUnmeasured(result));
  return success(
    known.choose(complete, trial.harvest),
    far.map(({ input }) => farPoints(input, frame, 'warning')),
  );
}

function isUnmeasured(result: MeasuredFile | MassUnknown): result is MassUnknown {
  return 'missing' in result;
}

function screen(
  screened: readonly { readonly file: JudgedFile; readonly reason: Uint8Array }[],
  trial: TrialDocument,
  grounds: readonly (StripGround | null)[],
  excluded: ExcludedGround,
): number | null {
  const settings = trial.harvest;
  for (const { file, reason } of screened) {
    const isAsked = settings.cutBeforeScreen !== false && settings.widthShareMin !== null;
    const cutBefore = isAsked ? cutBeforeM(file, grounds) : null;
    applyScreens(reason, {
      file,
      settings,
      grounds,
      moistureLimits: moistureLimits(trial),
      cutBefore,
      excluded,
    });
  }
  const median = screenYieldLimits(screened, settings);
  if (settings.outlierRobustSd !== null) {
    for (const { file, reason } of screened) screenOutliers(file, reason, settings.outlierRobustSd);
    if (settings.acrossScreen !== false)
      screenAcross(
        passesOfStrips(
          screened.map(({ file }) => file),
          grounds,
        ),
        screened,
        settings.outlierRobustSd,
      );
  }
  return median;
}

function responsesOf(files: readonly MeasuredFile[]): ResponseOfStrips[] {
  const hasMoisture = files.some(({ moisturePercent }) => moisturePercent !== null);
  return [
    { name: 'yield', quantity: 'yield', unit: null },
    ...(hasMoisture ? [{ name: 'moisture', quantity: 'moisture', unit: '%' } as const] : []),
  ];
}

/** All files one after the other, each in its own order of rows. */
function placedPoints(screened: readonly ScreenedFile[]): PlacedPoints {
  const [only, ...others] = screened;
  if (only !== undefined && others.length === 0 && only.file.order === null) {
    const { eastM, northM, yieldAtStandardKgPerHa, strip } = only.file;
    return { eastM, northM, yieldKgPerHa: yieldAtStandardKgPerHa, strip, reason: only.reason };
  }
  const count = screened.reduce((sum, { reason }) => sum + reason.length, 0);
  const placed = {
    eastM: new Float64Array(count),
    northM: new Float64Array(count),
    yieldKgPerHa: new Float64Array(count),
    strip: new Int32Array(count),
    reason: new Uint8Array(count),
  };
  let first = 0;
  for (const { file, reason } of screened) {
    for (let i = 0; i < reason.length; i++) {
      const at = first + (file.order?.[i] ?? i);
      placed.eastM[at] = file.eastM[i]!;
      placed.northM[at] = file.northM[i]!;
      placed.yieldKgPerHa[at] = file.yieldAtStandardKgPerHa[i]!;
      placed.strip[at] = file.strip[i]!;
      placed.reason[at] = reason[i]!;
    }
    first += reason.length;
  }
  return placed;
}

/** Passes are numbered through all files; 0 where a point belongs to none. */
function passNumbers(files: readonly JudgedFile[]): Int32Array {
  const numbers = new Int32Array(files.reduce((sum, { input }) => sum + input.count, 0));
  let [first, before] = [0, 0];
  for (const { input, order, track } of files) {
    for (let i = 0; i < input.count; i++) {
      const pass = track.passOfPoint[i]!;
      numbers[first + (order?.[i] ?? i)] = pass < 0 ? 0 : before + pass + 1;
    }
    first += input.count;
    before += track.spans.length;
  }
  return numbers;
}

function massProblem({ missing }: MassUnknown, file: string): Problem {
  return missing === 'yield'
    ? problem('error', 'noYieldInFile', { file })
    : problem('error', 'groundUnknown', { file }, { missing });
}

function shiftProblems(trial: TrialDocument, files: readonly HarvestPointsInput[]): Problem[] {
  return files.flatMap(({ file, timeS }) => {
    const { flowShiftS, moistureShiftS } = ownOfFile(trial, file);
    const shiftLagS = flowShiftS === 0 ? moistureShiftS : flowShiftS;
    if (timeS !== null || shiftLagS === 0) return [];
    return [problem('warning', 'shiftNeedsTime', { file }, { shiftLagS })];
  });
}
