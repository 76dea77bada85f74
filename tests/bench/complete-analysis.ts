import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { bartlett } from '../../analyses/bartlett.ts';
import { bonferroni } from '../../analyses/bonferroni.ts';
import { brownForsythe } from '../../analyses/brown-forsythe.ts';
import { detectableDifference } from '../../analyses/detectable-difference.ts';
import { dunnett } from '../../analyses/dunnett.ts';
import { twoOneSidedTests } from '../../analyses/equivalence.ts';
import { fisherLsd } from '../../analyses/fisher-lsd.ts';
import { friedman } from '../../analyses/friedman.ts';
import { holm } from '../../analyses/holm.ts';
import { letterGroups } from '../../analyses/letter-groups.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { nonadditivity } from '../../analyses/nonadditivity.ts';
import { allPairs, type JudgedDifference, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { shapiroWilk } from '../../analyses/shapiro-wilk.ts';
import { studentizedResiduals } from '../../analyses/studentized-residuals.ts';
import { tukey } from '../../analyses/tukey.ts';
import { differenceVerdict } from '../../src/findings/verdicts.ts';
import { BLOCKS, TREATMENTS } from './trials-to-analyse.ts';

const ALPHA = 0.05;
const MARGIN = 300;
const POWER = 0.8;

const plots = Array.from({ length: BLOCKS * TREATMENTS }, (_, i) => i);
const BLOCK: FactorTerm = {
  kind: 'factor',
  id: 'block',
  levelOfPlot: plots.map((i) => Math.floor(i / TREATMENTS)),
  levelCount: BLOCKS,
};
const TREATMENT: FactorTerm = {
  kind: 'factor',
  id: 'treatment',
  levelOfPlot: plots.map((i) => i % TREATMENTS),
  levelCount: TREATMENTS,
};

/**
 * Everything that is said about one trial: model, adjusted means, all pairs by LSD, Tukey, Bonferroni and Holm with their
 * letters, Dunnett against the first treatment, checks of assumptions, ranks, and a verdict on every pair.
 */
export function completeAnalysis(values: readonly number[]) {
  const fit = got(fitLinearModel(responseFromValues(values), [BLOCK, TREATMENT]));
  const means = got(adjustedMeans(fit, 'treatment'));
  const differences = got(pairwiseDifferences(means, allPairs(TREATMENTS)));
  const byTukey = got(tukey(differences, TREATMENTS, ALPHA));
  const judged = [
    got(fisherLsd(differences, ALPHA)),
    byTukey,
    got(bonferroni(differences, ALPHA)),
    got(holm(differences, ALPHA)),
  ];
  const deviations = means.means.map(({ deviation }) => deviation);
  const verdicts = byTukey.comparisons.map((row) =>
    differenceVerdict(row.p < ALPHA, got(twoOneSidedTests(row, MARGIN, ALPHA)), MARGIN),
  );
  return {
    fit,
    byTukey,
    verdicts,
    letters: judged.map(({ comparisons }) => letterGroups(deviations, decisions(comparisons))),
    dunnett: got(dunnett(means, 0, ALPHA)),
    checks: checksOf(fit.residuals, values),
    outlying: got(studentizedResiduals(fit)),
    nonadditivity: got(nonadditivity(fit)),
    detectable: got(detectableDifference(differences[0]!.standardError, fit.error.df, ALPHA, POWER)),
  };
}

function checksOf(residuals: readonly number[], values: readonly number[]) {
  const ofTreatment = (own: readonly number[]) =>
    Array.from({ length: TREATMENTS }, (_, t) => own.filter((_, plot) => plot % TREATMENTS === t));
  const ofBlock = Array.from({ length: BLOCKS }, (_, b) =>
    values.slice(b * TREATMENTS, (b + 1) * TREATMENTS),
  );
  return {
    shapiroWilk: got(shapiroWilk(residuals)),
    bartlett: got(bartlett(ofTreatment(residuals))),
    brownForsythe: got(brownForsythe(ofTreatment(residuals))),
    friedman: got(friedman(ofBlock)),
  };
}

function decisions(rows: readonly JudgedDifference[]): boolean[][] {
  const differs = Array.from({ length: TREATMENTS }, () => new Array<boolean>(TREATMENTS).fill(false));
  for (const { a, b, p } of rows) {
    differs[a]![b] = p < ALPHA;
    differs[b]![a] = p < ALPHA;
  }
  return differs;
}

function got<T extends object>(result: T | Refusal): T {
  if (isRefusal(result)) throw new Error(`expected a result, got the refusal ${result.code}`);
  return result;
}

/** The differences of one trial, for Tukey's table alone. */
export function differencesOf(values: readonly number[]) {
  const fit = got(fitLinearModel(responseFromValues(values), [BLOCK, TREATMENT]));
  return got(pairwiseDifferences(got(adjustedMeans(fit, 'treatment')), allPairs(TREATMENTS)));
}

export function tukeyTable(differences: ReturnType<typeof differencesOf>) {
  return got(tukey(differences, TREATMENTS, ALPHA));
}
