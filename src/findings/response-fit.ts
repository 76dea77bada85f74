import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { fromRefusal, type ReportRefusal, reportRefusal, unlinkedTreatments } from './report-refusal.ts';
import { linkedGroups, type ResponseDesign } from './response-design.ts';
import type { ResponsePlots } from './response-plots.ts';

export interface ResponseFit {
  readonly fit: LinearModelFit;
  readonly means: AdjustedMeans;
}

/**
 * Fits treatments, and blocks where there are two or more, to one response.
 *
 * Refused are data in which nothing can be told: fewer than two treatments, treatments that no shared block links,
 * values that are all the same, and values that the model explains without any remainder although error df are left
 * (copied or computed values; an error of zero would call everything real). A trial with no error df is not refused:
 * its means and differences are shown without verdicts.
 */
export function fitResponse(response: ResponsePlots, design: ResponseDesign): ResponseFit | ReportRefusal {
  if (design.treatments.length < 2)
    return reportRefusal('tooFewTreatments', { levels: design.treatments.length });
  const groups = linkedGroups(design);
  if (groups.length > 1) {
    const names = groups.map((group) =>
      group.map((level) => response.treatments[design.treatments[level] ?? 0] ?? ''),
    );
    return unlinkedTreatments(names);
  }
  const fit = fitLinearModel({ origin: response.origin, deviations: design.deviations }, termsOf(design));
  if (isRefusal(fit)) return fromRefusal(fit);
  if (fit.exactFit) return reportRefusal('noErrorVariation');
  const means = adjustedMeans(fit, 'treatment');
  return isRefusal(means) ? fromRefusal(means) : { fit, means };
}

/** In the order in which the table of the analysis of variance lists them. */
function termsOf(design: ResponseDesign): FactorTerm[] {
  const treatment = factor('treatment', design.treatmentOfPlot, design.treatments.length);
  if (design.blockOfPlot === null || design.blocks.length < 2) return [treatment];
  return [factor('block', design.blockOfPlot, design.blocks.length), treatment];
}

function factor(id: string, levelOfPlot: readonly number[], levelCount: number): FactorTerm {
  return { kind: 'factor', id, levelOfPlot, levelCount };
}
