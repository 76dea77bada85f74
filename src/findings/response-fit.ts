import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { comparableLevels } from '../../analyses/comparable-levels.ts';
import { fUpperTail } from '../../analyses/distributions/f.ts';
import { type AnovaRow, fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { ModelTerm } from '../../analyses/model-terms.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';
import { type DesignTerms, designTerms } from './design-terms.ts';
import { occurringLevels } from './plot-factors.ts';
import {
  fromRefusal,
  type ReportRefusal,
  reportRefusal,
  unlinkedTreatments,
  untriedCombinations,
  withComparable,
} from './report-refusal.ts';
import { linkedGroups, type ResponseDesign } from './response-design.ts';
import type { ResponsePlots } from './response-plots.ts';

export interface ResponseFit {
  /** Of treatments beside blocks, rows, columns, machine, covariate and trend. */
  readonly fit: LinearModelFit;
  readonly means: AdjustedMeans;
  /** The same model with two factors and their interaction in the treatments' place; null where there are none. */
  readonly factorial: LinearModelFit | null;
  /** Both parts of a quadratic trend together; null without one. */
  readonly trend: AnovaRow | null;
}

/**
 * Fits treatments, and what else the design holds, to one response.
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
  if (groups.length > 1) return unlinkedTreatments(namesOf(groups, response, design));
  const data = { origin: response.origin, deviations: design.deviations };
  const terms = designTerms(response, design);
  const fitOf = (of: readonly ModelTerm[]) => fitLinearModel(data, of);
  const fit = fitOf([...terms.surroundings, ...terms.trend, terms.treatment]);
  if (isRefusal(fit)) return confoundedRefusal(fit, terms, response, design);
  const ofMachine = fit.rows.find(({ term }) => term === 'machine');
  if (ofMachine !== undefined && fit.error.df === 0)
    return reportRefusal('machineLeavesNoError', { df: ofMachine.df });
  if (fit.exactFit) return reportRefusal('noErrorVariation');
  const factorial =
    terms.factors === null ? null : fitOf([...terms.surroundings, ...terms.trend, ...terms.factors]);
  if (factorial !== null && isRefusal(factorial)) return factorialRefusal(factorial, response, design);
  const means = adjustedMeans(fit, 'treatment');
  return isRefusal(means)
    ? fromRefusal(means)
    : { fit, means, factorial, trend: trendRow(fit, terms, fitOf) };
}

function namesOf(
  groups: readonly (readonly number[])[],
  response: ResponsePlots,
  { treatments }: ResponseDesign,
): readonly (readonly string[])[] {
  return groups.map((group) => group.map((level) => response.treatments[treatments[level] ?? 0] ?? ''));
}

/** Where treatments can be told in part, which of them. */
function confoundedRefusal(
  refusal: Refusal,
  { surroundings, trend, treatment }: DesignTerms,
  response: ResponsePlots,
  design: ResponseDesign,
): ReportRefusal {
  const said = machineRefusal(refusal) ?? fromRefusal(refusal);
  if (refusal.code !== 'confoundedTerms') return said;
  const others = [...surroundings, ...trend];
  const groups = comparableLevels(treatment, others);
  if (groups.length < 2) return said;
  const beside = others.map(({ id }) => TERM_WORDS[id] ?? id);
  return withComparable(said, namesOf(groups, response, design), beside);
}

/** A model of two factors that holds combinations on no strip, with their names. */
function factorialRefusal(
  refusal: Refusal,
  { model }: ResponsePlots,
  { plots }: ResponseDesign,
): ReportRefusal {
  const factors = model?.factors ?? null;
  if (refusal.code !== 'emptyCell' || factors === null) return fromRefusal(refusal);
  const seen = new Set(plots.map(({ factorA, factorB }) => `${factorA} ${factorB}`));
  const [first, second] = [
    occurringLevels(plots, ({ factorA }) => factorA),
    occurringLevels(plots, ({ factorB }) => factorB),
  ];
  const missing = first.flatMap((a) =>
    second
      .filter((b) => !seen.has(`${a} ${b}`))
      .map((b) => `${factors.a.names[a] ?? ''} with ${factors.b.names[b] ?? ''}`),
  );
  return untriedCombinations(missing);
}

const TERM_WORDS: Readonly<Record<string, string>> = {
  block: 'blocks',
  row: 'rows',
  column: 'columns',
  machine: 'the machine',
  covariate: 'the covariate',
  trend: 'the trend',
  trendSquared: 'its curve',
};

const GROUPINGS: readonly string[] = ['block', 'row', 'column'];

/** A machine that cannot be told from treatments, with what would help there. */
function machineRefusal({ code, details }: Refusal): ReportRefusal | null {
  if (code !== 'confoundedTerms') return null;
  const [term, others] = [String(details.term), String(details.with).split(', ')];
  if (term !== 'machine')
    return others.includes('machine') ? reportRefusal('machineLinesUpInModel', { other: term }) : null;
  // The term holds nothing of blocks, rows and columns: what it cannot be told from is the rest.
  const rest = others.filter((other) => !GROUPINGS.includes(other));
  return reportRefusal('machineLinesUpInModel', { other: (rest.length > 0 ? rest : others).join(', ') });
}

/** The extra sum of squares of line and square together. */
function trendRow(
  fit: LinearModelFit,
  { surroundings, trend, treatment }: DesignTerms,
  fitOf: (terms: readonly ModelTerm[]) => LinearModelFit | Refusal,
): AnovaRow | null {
  if (trend.length === 0) return null;
  const own = fit.rows.find(({ term }) => term === 'trend') ?? null;
  if (trend.length === 1) return own;
  const without = fitOf([...surroundings, treatment]);
  if (isRefusal(without)) return own;
  const df = trend.length;
  const ss = Math.max(0, without.error.ss - fit.error.ss);
  const { ms: errorMs, df: errorDf } = fit.error;
  if (errorMs === null || errorMs === 0) return { term: 'trend', df, ss, ms: ss / df, f: null, p: null };
  const f = ss / df / errorMs;
  return { term: 'trend', df, ss, ms: ss / df, f, p: fUpperTail(f, df, errorDf) };
}
