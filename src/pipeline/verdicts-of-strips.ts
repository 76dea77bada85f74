import { pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { chooseProcedure, decide } from '../findings/deciding-procedure.ts';
import { judgedComparisons } from '../findings/judged-comparisons.ts';
import { pairsThatMatter } from '../findings/pairs-that-matter.ts';
import type { DifferenceVerdict, MoneyVerdict } from '../findings/report-model.ts';
import { isReportRefusal } from '../findings/report-refusal.ts';
import { designOf } from '../findings/response-design.ts';
import { fitResponse } from '../findings/response-fit.ts';
import type { Judging, ResponsePlots } from '../findings/response-plots.ts';
import { moneyTerms } from '../findings/strip-money.ts';
import { distinctNames } from '../findings/treatment-names.ts';
import { differenceVerdict, moneyVerdict } from '../findings/verdicts.ts';
import { yieldUnit } from '../trial/display-units.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What the trial says of one comparison; figures in the trial's yield unit. */
export interface ComparisonVerdict {
  readonly a: string;
  readonly b: string;
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly difference: DifferenceVerdict | null;
  readonly money: MoneyVerdict | null;
}

/**
 * The verdicts of the comparisons that matter from one yield a strip (kg/ha, null: none), as the report gives them
 * but without its tables and checks, so that it can be asked a hundred times. null where the report would refuse.
 */
export function verdictsOfStrips(
  trial: TrialDocument,
  yieldKgPerHa: readonly (number | null)[],
): readonly ComparisonVerdict[] | null {
  const { perSi } = yieldUnit(trial);
  const response = yieldPlots(trial, yieldKgPerHa, perSi);
  const judging = judgingOf(trial, perSi);
  const design = designOf(response);
  const fitted = fitResponse(response, design);
  if (isReportRefusal(fitted) || fitted.fit.error.df === 0) return null;
  const matter = pairsThatMatter(response, design, judging);
  if (isReportRefusal(matter) || matter.pairs.length === 0) return null;
  const differences = pairwiseDifferences(fitted.means, matter.pairs);
  if (isRefusal(differences)) return null;
  const decided = decide(chooseProcedure(judging.decidedBy, matter.kind, differences.length), {
    differences,
    kind: matter.kind,
    means: fitted.means,
    alpha: judging.alpha,
    treatmentP: fitted.fit.rows.find(({ term }) => term === 'treatment')?.p ?? null,
  });
  if (isReportRefusal(decided)) return null;
  const names = design.treatments.map((own) => response.treatments[own] ?? '');
  return judgedComparisons(differences, decided, judging, { names, said: names }).map((judged) => {
    const [a, b] = judged.pair;
    const money = moneyTerms(trial, design.treatments[a] ?? 0, design.treatments[b] ?? 0);
    return {
      a: judged.a,
      b: judged.b,
      estimate: judged.estimate,
      lower: judged.lower,
      upper: judged.upper,
      difference: differenceVerdict(judged.real, judged.equivalence, judging.margin),
      money: money.known ? moneyVerdict(judged, money.breakEven) : null,
    };
  });
}

function yieldPlots(
  trial: TrialDocument,
  yieldKgPerHa: readonly (number | null)[],
  perSi: number,
): ResponsePlots {
  const isBlocked =
    trial.design === 'randomizedCompleteBlocks' && trial.strips.some(({ block }) => block !== null);
  const treatments = trial.treatments.map(({ id }) => id);
  const blocks = trial.blocks.map(({ id }) => id);
  return {
    name: 'yield',
    unit: null,
    better: 'higher',
    treatments: [...distinctNames(trial.treatments).values()],
    blocks: isBlocked ? [...distinctNames(trial.blocks).values()] : null,
    origin: 0,
    plots: trial.strips.map(({ treatment, block }, s) => {
      const value = yieldKgPerHa[s] ?? null;
      const at = block === null ? -1 : blocks.indexOf(block);
      return {
        treatment: Math.max(0, treatments.indexOf(treatment)),
        block: at < 0 ? null : at,
        deviation: value === null ? null : value * perSi,
      };
    }),
  };
}

function judgingOf({ treatments, inference }: TrialDocument, perSi: number): Judging {
  const at = (wanted: string) =>
    Math.max(
      0,
      treatments.findIndex(({ id }) => id === wanted),
    );
  const check = treatments.findIndex(({ isCheck }) => isCheck);
  const { alpha, decidedBy, comparisons, namedPairs, marginKgPerHa } = inference;
  return {
    alpha,
    decidedBy,
    comparisons,
    namedPairs: namedPairs.map(([a, b]) => [at(a), at(b)]),
    check: check < 0 ? null : check,
    margin: marginKgPerHa === null ? null : marginKgPerHa * perSi,
  };
}
