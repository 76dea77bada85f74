import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { M2_PER_HA } from '../trial/units.ts';
import type { PointHarvest } from './harvest-points.ts';
import { type SetAsideBalance, testByDesign } from './set-aside-balance.ts';
import type { StripValue } from './strip-values.ts';

/** What a scale or a weigh wagon said of one strip. */
export interface ScaleWeight {
  readonly strip: string;
  /** Of all that was cut in the strip, its ends included. */
  readonly weightKg: number;
  /** null: as the monitor's points have it on average. */
  readonly moisturePercent: number | null;
}

export interface WeighedStrip {
  readonly strip: string;
  /** Over all that the strip's passes cut, before any screen; kg/ha at standard moisture. */
  readonly monitorKgPerHa: number;
  readonly scaleKgPerHa: number;
  /** Monitor over scale; null where the scale says nothing was cut. */
  readonly ratio: number | null;
}

export interface WeighedHarvest {
  /** One for each strip of the trial: the scale's yield in place of the monitor's, all else as it was. */
  readonly strips: readonly StripValue[];
  readonly weighed: readonly WeighedStrip[];
  /** Do the ratios differ between treatments? F test by the trial's own design. */
  readonly ratioTest: Pick<SetAsideBalance, 'f' | 'treatmentDf' | 'errorDf' | 'p'>;
}

const WORTH_SAYING_P = 0.1;

/**
 * What does each strip yield by the scale? Its weight at standard moisture over the ground that its passes cut, ends
 * included. The ratio monitor to scale is over the same passes without screens, since the scale weighed those points
 * too. Strips without a weight get no yield as soon as another has one.
 *
 * Refuses with `weightNeedsArea` where no strip's ground is known in m².
 */
export function weighStrips(
  trial: TrialDocument,
  harvest: Pick<PointHarvest, 'strips' | 'cut'>,
  weights: readonly ScaleWeight[],
): Outcome<WeighedHarvest> {
  if (harvest.cut.every((cut) => cut === null)) return failure(problem('error', 'weightNeedsArea'));
  const problems: Problem[] = [];
  const byStrip = usableWeights(trial, weights, problems);
  const weighed = trial.strips.map(({ id }, s) => {
    const weight = byStrip.get(id);
    return weight === undefined ? null : weighedStrip(trial, weight, harvest, s, problems);
  });
  const unweighed = trial.strips.filter((_, s) => weighed[s] === null).map(({ id }) => id);
  const isWeighed = unweighed.length < trial.strips.length;
  if (isWeighed && unweighed.length > 0) {
    problems.push(
      problem('warning', 'stripsWithoutWeight', {}, { strips: unweighed, count: unweighed.length }),
    );
  }
  const ratioTest = testByDesign(
    trial,
    weighed.map((strip) => strip?.ratio ?? null),
  );
  if (ratioTest.p !== null && ratioTest.p < WORTH_SAYING_P) {
    problems.push(problem('warning', 'ratioByTreatment', {}, { p: ratioTest.p }));
  }
  const strips = harvest.strips.map((value, s) =>
    isWeighed ? { ...value, values: { ...value.values, yield: weighed[s]?.scaleKgPerHa ?? null } } : value,
  );
  return success({ strips, weighed: weighed.filter((strip) => strip !== null), ratioTest }, problems);
}

function usableWeights(
  trial: TrialDocument,
  weights: readonly ScaleWeight[],
  problems: Problem[],
): ReadonlyMap<string, ScaleWeight> {
  const known = new Set(trial.strips.map(({ id }) => id));
  const byStrip = new Map<string, ScaleWeight>();
  for (const weight of weights) {
    const { strip, weightKg, moisturePercent } = weight;
    const isPossible =
      weightKg >= 0 && Number.isFinite(weightKg) && (moisturePercent === null || isMoisture(moisturePercent));
    if (!known.has(strip)) problems.push(problem('warning', 'weightStripUnknown', {}, { strip }));
    else if (!isPossible || byStrip.has(strip))
      problems.push(problem('warning', 'weightImpossible', {}, { strip, weightKg }));
    else byStrip.set(strip, weight);
  }
  return byStrip;
}

function isMoisture(percent: number): boolean {
  return percent >= 0 && percent < 100;
}

function weighedStrip(
  trial: TrialDocument,
  { strip, weightKg, moisturePercent }: ScaleWeight,
  harvest: Pick<PointHarvest, 'strips' | 'cut'>,
  s: number,
  problems: Problem[],
): WeighedStrip | null {
  const cut = harvest.cut[s] ?? null;
  if (cut === null) return null;
  const standard = trial.standardMoisturePercent;
  const moisture = moisturePercent ?? harvest.strips[s]?.values.moisture ?? null;
  if (standard !== null && moisture === null) {
    problems.push(problem('warning', 'weightMoistureMissing', {}, { strip }));
    return null;
  }
  const factor = standard === null || moisture === null ? 1 : (100 - moisture) / (100 - standard);
  const scaleKg = weightKg * factor;
  return {
    strip,
    monitorKgPerHa: (cut.massKg / cut.areaM2) * M2_PER_HA,
    scaleKgPerHa: (scaleKg / cut.areaM2) * M2_PER_HA,
    ratio: scaleKg > 0 ? cut.massKg / scaleKg : null,
  };
}
