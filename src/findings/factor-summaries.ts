import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { commonStandardError, fisherLsd } from '../../analyses/fisher-lsd.ts';
import { allPairs, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { tukey } from '../../analyses/tukey.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { comparisonRow } from './comparison-rows.ts';
import { meanRows } from './mean-rows.ts';
import { occurringLevels } from './plot-factors.ts';
import type { ReportResponse } from './report-model.ts';

type FactorSummary = ReportResponse['factors'][number];

/** Each of two factors averaged over the other, on the same error as their combinations; none without two factors. */
export function factorSummaries({ response, design, judging, fitted }: AnalysedResponse): FactorSummary[] {
  const factors = response.model?.factors;
  if (!factors || fitted.factorial === null || fitted.fit.error.df === 0) return [];
  const { factorial } = fitted;
  return (['factorA', 'factorB'] as const).flatMap((source) => {
    const { heading, names } = source === 'factorA' ? factors.a : factors.b;
    const means = adjustedMeans(factorial, source);
    if (isRefusal(means)) return [];
    const levels = occurringLevels(design.plots, (plot) => plot[source]).map((own) => names[own] ?? '');
    const summary = summaryOf(means, levels, judging.alpha, response.better);
    return summary === null ? [] : [{ source, label: heading, ...summary }];
  });
}

function summaryOf(
  means: AdjustedMeans,
  names: readonly string[],
  alpha: number,
  better: 'higher' | 'lower',
): Omit<FactorSummary, 'source' | 'label'> | null {
  const all = pairwiseDifferences(means, allPairs(names.length));
  if (isRefusal(all)) return null;
  const lsd = fisherLsd(all, alpha);
  const hsd = tukey(all, names.length, alpha);
  if (isRefusal(lsd) || isRefusal(hsd)) return null;
  const decisions = [
    { procedure: 'lsd' as const, rows: lsd.comparisons },
    ...(names.length > 2 ? [{ procedure: 'tukey' as const, rows: hsd.comparisons }] : []),
  ];
  return {
    means: meanRows(
      means,
      names,
      alpha,
      better,
      decisions.map((own) => ({ ...own, real: own.rows.map(({ p }) => p < alpha) })),
    ),
    comparisons: decisions.flatMap(({ procedure, rows }) =>
      rows.map((row) => comparisonRow(procedure, row, names)),
    ),
    standardErrorOfDifference: commonStandardError(all),
    lsd: { alpha, df: lsd.df, value: lsd.lsd },
  };
}
