import { pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { chooseProcedure, decide } from '../findings/deciding-procedure.ts';
import { designFaults } from '../findings/design-faults.ts';
import { judgedComparisons } from '../findings/judged-comparisons.ts';
import type { MachineOfStrip } from '../findings/machine-term.ts';
import { pairsThatMatter } from '../findings/pairs-that-matter.ts';
import type { DifferenceVerdict, MoneyVerdict } from '../findings/report-model.ts';
import { isReportRefusal } from '../findings/report-refusal.ts';
import { designOf, type ResponseDesign } from '../findings/response-design.ts';
import { fitResponse } from '../findings/response-fit.ts';
import type { Judging, ResponsePlots } from '../findings/response-plots.ts';
import { comparisonsThatMatter, judgedMatters, splitPlotFit } from '../findings/split-plot-fit.ts';
import { moneyTerms } from '../findings/strip-money.ts';
import { judgingOfTrial, plotsOfTrial } from '../findings/trial-plots.ts';
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
 * but without its tables and checks, so that it can be asked a hundred times. null where the report would refuse, and on
 * another scale than that of the yields.
 */
export function verdictsOfStrips(
  trial: TrialDocument,
  yieldKgPerHa: readonly (number | null)[],
  machines: MachineOfStrip | null = null,
): readonly ComparisonVerdict[] | null {
  // On another scale the report brings its answers back, which is not done here.
  if (trial.inference.scale) return null;
  if (designFaults(trial).length > 0) return null;
  const { perSi } = yieldUnit(trial);
  const values = yieldKgPerHa.map((own) => (own === null ? null : own * perSi));
  const response = plotsOfTrial(trial, { name: 'yield', unit: null, better: 'higher', values, machines });
  const judging = judgingOfTrial(trial, perSi);
  const design = designOf(response);
  if (design.design === 'splitPlot') return verdictsOfSplitPlot(response, design, judging);
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

/** Main levels by the error of main plots, sub levels by that of sub-plots, as in its report; money is not judged there. */
function verdictsOfSplitPlot(
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
): readonly ComparisonVerdict[] | null {
  const fit = splitPlotFit(response, design, judging);
  if (isReportRefusal(fit)) return null;
  const matter = comparisonsThatMatter(fit);
  if (isReportRefusal(matter)) return null;
  return judgedMatters(matter, fit).comparisons.map(
    ({ a, b, estimate, lower, upper, real, equivalence }) => ({
      a,
      b,
      estimate,
      lower,
      upper,
      difference: differenceVerdict(real, equivalence, judging.margin),
      money: null,
    }),
  );
}
