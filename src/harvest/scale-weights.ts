import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { M2_PER_HA } from '../trial/units.ts';
import type { PointHarvest } from './harvest-points.ts';
import { WORTH_SAYING_P } from './set-aside-balance.ts';
import type { StripValue } from './strip-values.ts';
import { type TestByDesign, testByDesign } from './test-by-design.ts';

/** What a scale or a weigh wagon said of one load: all that was cut in one strip, or in several, ends included. */
export interface ScaleLoad {
  /** Ids of strips. */
  readonly strips: readonly string[];
  readonly weightKg: number;
  /** null: as the monitor's points have it on average. */
  readonly moisturePercent: number | null;
}

/** What a load can tell: the yield of its strip; the sum of strips of one treatment; the monitor's level alone. */
export type LoadUse = 'strip' | 'sumOfTreatment' | 'level';

export interface WeighedLoad {
  readonly strips: readonly string[];
  readonly use: LoadUse;
  /** Ground that the strips' passes cut. */
  readonly areaM2: number;
  /** Over all that the strips' passes cut, before any screen; kg/ha at standard moisture. */
  readonly monitorKgPerHa: number;
  readonly scaleKgPerHa: number;
  /** Monitor over scale; null where the scale says nothing was cut. */
  readonly ratio: number | null;
}

export interface WeighedHarvest {
  /** One for each strip of the trial: the scale's yield in place of the monitor's, all else as it was. */
  readonly strips: readonly StripValue[];
  readonly loads: readonly WeighedLoad[];
  /** Scale over monitor of the loads of several treatments; what strips without a weight were multiplied by. */
  readonly levelFactor: number | null;
  /** Do the ratios of single strips differ between treatments? F test by the trial's own design. */
  readonly ratioTest: TestByDesign;
}

type Harvest = Pick<PointHarvest, 'strips' | 'cut'>;

/**
 * What does each strip yield by the scale? Its weight at standard moisture over the ground that its passes cut, ends
 * included. The ratio monitor to scale is over the same passes without screens, since the scale weighed those points
 * too. A load over several strips of one treatment sets their sum, and the monitor shares it out among them. A load
 * over several treatments says nothing of their difference: it gives one factor for all strips without a weight of
 * their own. Without such a load these get no yield as soon as another strip has a weight.
 *
 * Refuses with `weightNeedsArea` where no strip's ground is known in m².
 */
export function weighStrips(
  trial: TrialDocument,
  harvest: Harvest,
  loads: readonly ScaleLoad[],
): Outcome<WeighedHarvest> {
  if (harvest.cut.every((cut) => cut === null)) return failure(problem('error', 'weightNeedsArea'));
  const problems: Problem[] = [];
  const weighed = weighings(trial, loads, problems).flatMap(
    (weighing) => weighedLoad(trial, weighing, harvest, problems) ?? [],
  );
  const byStrip = new Map(
    weighed.flatMap((load) =>
      load.use === 'level' ? [] : load.strips.map((strip) => [strip, load] as const),
    ),
  );
  const levelFactor = factorOf(weighed.filter(({ use }) => use === 'level'));
  const unweighed = trial.strips.filter(({ id }) => !byStrip.has(id)).map(({ id }) => id);
  if (byStrip.size > 0 && unweighed.length > 0 && levelFactor === null) {
    problems.push(
      problem('warning', 'stripsWithoutWeight', {}, { strips: unweighed, count: unweighed.length }),
    );
  }
  problems.push(...saidOfLoads(weighed, levelFactor));
  const ratioTest = testByDesign(
    trial,
    trial.strips.map(({ id }) => {
      const load = byStrip.get(id);
      return load?.use === 'strip' ? load.ratio : null;
    }),
  );
  if (ratioTest.p !== null && ratioTest.p < WORTH_SAYING_P) {
    problems.push(problem('warning', 'ratioByTreatment', {}, { p: ratioTest.p }));
  }
  const strips = harvest.strips.map((value, s) => {
    const load = byStrip.get(trial.strips[s]?.id ?? '') ?? null;
    return weighed.length === 0 ? value : withScaleYield(value, load, harvest.cut[s] ?? null, levelFactor);
  });
  return success({ strips, loads: weighed, levelFactor, ratioTest }, problems);
}

function withScaleYield(
  value: StripValue,
  load: WeighedLoad | null,
  cut: Harvest['cut'][number],
  levelFactor: number | null,
): StripValue {
  const own = scaleYield(value, load, cut, levelFactor);
  return { ...value, values: { ...value.values, yield: own } };
}

function scaleYield(
  value: StripValue,
  load: WeighedLoad | null,
  cut: Harvest['cut'][number],
  levelFactor: number | null,
): number | null {
  if (load?.use === 'strip') return load.scaleKgPerHa;
  const monitor = value.values.yield ?? null;
  if (load === null) return levelFactor === null || monitor === null ? null : monitor * levelFactor;
  if (cut === null) return null;
  return ((cut.massKg / cut.areaM2) * M2_PER_HA * load.scaleKgPerHa) / load.monitorKgPerHa;
}

/** Over several loads: their mass on the scale over their mass by the monitor. */
function factorOf(loads: readonly WeighedLoad[]): number | null {
  const sum = (of: (load: WeighedLoad) => number) =>
    loads.reduce((total, load) => total + of(load) * load.areaM2, 0);
  const monitor = sum(({ monitorKgPerHa }) => monitorKgPerHa);
  return monitor > 0 ? sum(({ scaleKgPerHa }) => scaleKgPerHa) / monitor : null;
}

function saidOfLoads(weighed: readonly WeighedLoad[], levelFactor: number | null): Problem[] {
  const shared = weighed.filter(({ use }) => use === 'sumOfTreatment').flatMap(({ strips }) => strips);
  const mixed = weighed.filter(({ use }) => use === 'level').length;
  return [
    ...(shared.length === 0
      ? []
      : [problem('warning', 'loadSharedOut', {}, { strips: shared, count: shared.length })]),
    ...(mixed === 0 || levelFactor === null
      ? []
      : [problem('warning', 'loadGivesLevelAlone', {}, { loads: mixed, factor: levelFactor })]),
  ];
}

/** All weights of the very same strips, which were emptied onto the scale one after the other. */
interface Weighing {
  readonly strips: readonly string[];
  readonly loads: readonly ScaleLoad[];
}

/** A strip whose weight came in several loads has all of them as its weight; to take the first would halve its yield. */
function weighings(
  trial: TrialDocument,
  loads: readonly ScaleLoad[],
  problems: Problem[],
): readonly Weighing[] {
  const found: { readonly strips: readonly string[]; readonly loads: ScaleLoad[] }[] = [];
  for (const load of usableLoads(trial, loads, problems)) {
    const same = found.find(({ strips }) => isSame(strips, load.strips));
    if (same !== undefined) same.loads.push(load);
    else if (found.some(({ strips }) => strips.some((strip) => load.strips.includes(strip)))) {
      const details = { strip: load.strips.join(' + '), weightKg: load.weightKg };
      problems.push(problem('warning', 'weightOverlaps', {}, details));
    } else found.push({ strips: load.strips, loads: [load] });
  }
  const several = found.filter((weighing) => weighing.loads.length > 1);
  if (several.length > 0) {
    const strips = several.map((weighing) => weighing.strips.join(' + '));
    problems.push(problem('warning', 'weightsAddedUp', {}, { strips, count: several.length }));
  }
  return found;
}

function isSame(strips: readonly string[], others: readonly string[]): boolean {
  return strips.length === others.length && strips.every((strip) => others.includes(strip));
}

function usableLoads(
  trial: TrialDocument,
  loads: readonly ScaleLoad[],
  problems: Problem[],
): readonly ScaleLoad[] {
  const known = new Set(trial.strips.map(({ id }) => id));
  return loads.filter(({ strips, weightKg, moisturePercent }) => {
    const unknown = strips.find((strip) => !known.has(strip));
    if (unknown !== undefined) {
      problems.push(problem('warning', 'weightStripUnknown', {}, { strip: unknown }));
      return false;
    }
    const isPossible =
      weightKg >= 0 && Number.isFinite(weightKg) && (moisturePercent === null || isMoisture(moisturePercent));
    if (isPossible && strips.length > 0 && new Set(strips).size === strips.length) return true;
    problems.push(problem('warning', 'weightImpossible', {}, { strip: strips.join(' + '), weightKg }));
    return false;
  });
}

function isMoisture(percent: number): boolean {
  return percent >= 0 && percent < 100;
}

function weighedLoad(
  trial: TrialDocument,
  load: Weighing,
  harvest: Harvest,
  problems: Problem[],
): WeighedLoad | null {
  const at = load.strips.map((strip) => trial.strips.findIndex(({ id }) => id === strip));
  const said = load.strips.join(' + ');
  const cuts = at.flatMap((s) => harvest.cut[s] ?? []);
  const massKg = cuts.reduce((sum, cut) => sum + cut.massKg, 0);
  const areaM2 = cuts.reduce((sum, cut) => sum + cut.areaM2, 0);
  if (cuts.length < at.length || !(areaM2 > 0) || (at.length > 1 && !(massKg > 0))) {
    problems.push(problem('warning', 'weightWithoutPasses', {}, { strip: said }));
    return null;
  }
  const standard = trial.standardMoisturePercent;
  const ofPoints = meanMoisture(at, harvest);
  const moistures = load.loads.map(({ moisturePercent }) => moisturePercent ?? ofPoints);
  if (standard !== null && moistures.includes(null)) {
    problems.push(problem('warning', 'weightMoistureMissing', {}, { strip: said }));
    return null;
  }
  const toStandard = (moisture: number | null | undefined) =>
    standard === null || moisture == null ? 1 : (100 - moisture) / (100 - standard);
  const scaleKg = load.loads.reduce((sum, { weightKg }, k) => sum + weightKg * toStandard(moistures[k]), 0);
  return {
    strips: load.strips,
    use: useOf(at.map((s) => trial.strips[s]?.treatment ?? null)),
    areaM2,
    monitorKgPerHa: (massKg / areaM2) * M2_PER_HA,
    scaleKgPerHa: (scaleKg / areaM2) * M2_PER_HA,
    ratio: scaleKg > 0 ? massKg / scaleKg : null,
  };
}

function useOf(treatments: readonly (string | null)[]): LoadUse {
  if (treatments.length === 1) return 'strip';
  return new Set(treatments).size === 1 ? 'sumOfTreatment' : 'level';
}

/** Weighted by what each strip's passes cut; null where a strip has no moisture. */
function meanMoisture(at: readonly number[], { strips, cut }: Harvest): number | null {
  let [sum, massKg] = [0, 0];
  for (const s of at) {
    const moisture = strips[s]?.values.moisture ?? null;
    if (moisture === null) return null;
    const own = at.length === 1 ? 1 : (cut[s]?.massKg ?? 0);
    sum += own * moisture;
    massKg += own;
  }
  return massKg > 0 ? sum / massKg : null;
}
