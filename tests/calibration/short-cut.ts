import type { AdjustedMeans } from '../../analyses/adjusted-means.ts';
import { bartlett } from '../../analyses/bartlett.ts';
import { brownForsythe } from '../../analyses/brown-forsythe.ts';
import { tUpperQuantile } from '../../analyses/distributions/t.ts';
import { holmAdjusted } from '../../analyses/holm.ts';
import { type PairwiseDifference, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { type Decider, type DecidingInput, decide } from '../../src/findings/deciding-procedure.ts';
import { everyPair } from '../../src/findings/pairs-that-matter.ts';
import { isReportRefusal } from '../../src/findings/report-refusal.ts';
import { designOf } from '../../src/findings/response-design.ts';
import { fitResponse } from '../../src/findings/response-fit.ts';
import type { ResponsePlots } from '../../src/findings/response-plots.ts';
import { DOUBT_LEVEL } from '../../src/words/check-sentences.ts';

/** A procedure on the comparisons it decides. */
export const FAMILIES = [
  { name: 'lsd, all pairs', procedure: 'lsd', kind: 'allPairs' },
  { name: 'protected lsd, all pairs', procedure: 'protectedLsd', kind: 'allPairs' },
  { name: 'bonferroni, all pairs', procedure: 'bonferroni', kind: 'allPairs' },
  { name: 'holm, all pairs', procedure: 'holm', kind: 'allPairs' },
  { name: 'tukey, all pairs', procedure: 'tukey', kind: 'allPairs' },
  { name: 'lsd, against the check', procedure: 'lsd', kind: 'againstCheck' },
  { name: 'bonferroni, against the check', procedure: 'bonferroni', kind: 'againstCheck' },
  { name: 'holm, against the check', procedure: 'holm', kind: 'againstCheck' },
  { name: 'dunnett, against the check', procedure: 'dunnett', kind: 'againstCheck' },
] as const satisfies readonly { name: string; procedure: Decider; kind: DecidingInput['kind'] }[];

export type Family = (typeof FAMILIES)[number];

export const CHECK = 0;

/** A trial taken as far as the report takes it before anything is decided, by the report's own functions. */
export interface FittedTrial {
  readonly means: AdjustedMeans;
  readonly allPairs: readonly PairwiseDifference[];
  readonly againstCheck: readonly PairwiseDifference[];
  readonly treatmentP: number;
  /** Whether the report says that some treatments vary more than others. */
  readonly warnsOfVariances: () => boolean;
}

export function fittedTrial(response: ResponsePlots): FittedTrial {
  const design = designOf(response);
  const fitted = fitResponse(response, design);
  if (isReportRefusal(fitted)) throw new Error(`expected a fit, got the refusal ${fitted.code}`);
  const allPairs = pairwiseDifferences(fitted.means, everyPair(design, CHECK));
  if (isRefusal(allPairs)) throw new Error(`expected differences, got the refusal ${allPairs.code}`);
  const treatmentP = fitted.fit.rows.find((row) => row.term === 'treatment')?.p;
  if (treatmentP === undefined || treatmentP === null) throw new Error('expected an F test of treatments');
  return {
    means: fitted.means,
    allPairs,
    againstCheck: allPairs.filter(({ b }) => b === CHECK),
    treatmentP,
    warnsOfVariances: () => warnsOfVariances(fitted.fit.residuals, design.treatmentOfPlot),
  };
}

/** As the report's own checks do, at their level. */
function warnsOfVariances(residuals: readonly number[], treatmentOfPlot: readonly number[]): boolean {
  const groups = Array.from({ length: Math.max(...treatmentOfPlot) + 1 }, (): number[] => []);
  residuals.forEach((residual, plot) => {
    groups[treatmentOfPlot[plot]!]!.push(residual);
  });
  return [bartlett(groups), brownForsythe(groups)].some((test) => !isRefusal(test) && test.p < DOUBT_LEVEL);
}

/**
 * What |t| is held against. It depends on the design alone, not on the values, so it is taken once for each cell from
 * the intervals of the report's own `decide`; deciding every trial anew would cost a hundred times as much.
 */
export interface CriticalValues {
  readonly alpha: number;
  readonly of: Readonly<Record<Family['name'], number>>;
  /** Of the interval of one mean. */
  readonly ofMean: number;
}

export function criticalValues(trial: FittedTrial, alpha: number): CriticalValues {
  const of = Object.fromEntries(FAMILIES.map((family) => [family.name, criticalValue(family, trial, alpha)]));
  return {
    alpha,
    of: of as CriticalValues['of'],
    ofMean: tUpperQuantile(alpha / 2, trial.means.error.df),
  };
}

function criticalValue({ procedure, kind }: Family, trial: FittedTrial, alpha: number): number {
  const differences = trial[kind];
  const decided = decide(procedure, {
    differences,
    kind,
    means: trial.means,
    alpha,
    treatmentP: trial.treatmentP,
  });
  if (isReportRefusal(decided)) throw new Error(`expected a decision, got the refusal ${decided.code}`);
  const interval = decided.intervals[0];
  if (interval?.upper === undefined || interval.upper === null) throw new Error('expected an interval');
  return (interval.upper - interval.difference) / interval.standardError;
}

/** Which comparisons of a family are called real, in the order of its differences. */
export function realOnes(
  { name, procedure, kind }: Family,
  trial: FittedTrial,
  critical: CriticalValues,
): boolean[] {
  const differences = trial[kind];
  if (procedure === 'holm')
    return holmAdjusted(differences.map((row) => row.pUnadjusted)).map((p) => p < critical.alpha);
  const allowed = procedure !== 'protectedLsd' || trial.treatmentP < critical.alpha;
  return differences.map((row) => allowed && Math.abs(row.t) > critical.of[name]);
}
