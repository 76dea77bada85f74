import { contrast } from '../../analyses/contrast.ts';
import { rateOfBestReturn } from '../../analyses/rate-of-best-return.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { responseToRate } from '../../analyses/response-to-rate.ts';
import { refusalWords } from '../words/refusal-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { ReportComparison, ReportResponse } from './report-model.ts';

/** Weighted sums of treatments that the user named; those that a lost treatment leaves without a mean are left out. */
export function contrastRows({
  response,
  design,
  judging,
  fitted,
}: AnalysedResponse): ReportResponse['contrasts'] {
  return (response.contrasts ?? []).flatMap((weightOf) => {
    const weights = design.treatments.map((own) => weightOf[own] ?? 0);
    const kept = weights.reduce((sum, own) => sum + Math.abs(own), 0);
    const asked = weightOf.reduce((sum, own) => sum + Math.abs(own), 0);
    if (kept < asked) return [];
    const found = contrast(fitted.means, weights, judging.alpha);
    if (isRefusal(found)) return [];
    const { estimate, standardError, df, t, p, lower, upper, ss } = found;
    const named = design.treatments.map((own, level) => ({
      treatment: response.treatments[own] ?? '',
      weight: weights[level] ?? 0,
    }));
    return [
      {
        weights: named.filter(({ weight }) => weight !== 0),
        estimate,
        standardError,
        df,
        t,
        p,
        lower,
        upper,
        ss,
      },
    ];
  });
}

/** The same as rows among all comparisons: what is added, against what is taken off. */
export function contrastComparisons(contrasts: ReportResponse['contrasts']): ReportComparison[] {
  return contrasts.map(({ weights, estimate, standardError, df, t, p, lower, upper }) => ({
    a: weightedSum(weights.filter(({ weight }) => weight > 0)),
    b: weightedSum(weights.filter(({ weight }) => weight < 0)),
    difference: estimate,
    standardError,
    df,
    t,
    p,
    pUnadjusted: p,
    lower,
    upper,
    procedure: 'contrast',
  }));
}

function weightedSum(weights: ReportResponse['contrasts'][number]['weights']): string {
  return weights
    .map(({ treatment, weight }) => {
      const size = Math.abs(weight);
      return size === 1 ? treatment : `${Number(size.toPrecision(4))} ${treatment}`;
    })
    .join(' + ');
}

/**
 * How the response follows the rate that treatments are named by ("0", "50 kg"): line, parabola, what neither explains,
 * and the rate of the highest response where the data show one. null where it was not asked for.
 */
export function ratesOf({ response, judging, fitted, names }: AnalysedResponse): ReportResponse['rates'] {
  if (response.followsRate !== true) return null;
  const fit = responseToRate(fitted.means, names.map(rateNamed), judging.alpha);
  if (isRefusal(fit)) return { ...NO_RATES, refusal: refused(fit.code, fit.details) };
  const best = rateOfBestReturn(fit, 0);
  return {
    refusal: null,
    lowestRate: fit.lowestRate,
    highestRate: fit.highestRate,
    lines: fit.lines.map((line) => ({ ...line })),
    slope: { ...fit.slope },
    curvature: fit.curvature === null ? null : { ...fit.curvature },
    best: isRefusal(best)
      ? { rate: null, lower: null, upper: null, response: null, refusal: refused(best.code, best.details) }
      : { rate: best.rate, lower: best.lower, upper: best.upper, response: best.response, refusal: null },
  };
}

const NO_RATES = { lowestRate: null, highestRate: null, lines: [], slope: null, curvature: null, best: null };

function refused(code: string, details: Readonly<Record<string, string | number>>) {
  return { code, ...refusalWords(code, details) };
}

/** The number that a treatment's name begins with; null where it begins with none. */
export function rateNamed(name: string): number | null {
  const found = /^\s*(\d+(?:\.\d+)?)(?![\d.,])/.exec(name);
  return found === null ? null : Number(found[1]);
}
