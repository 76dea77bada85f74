import { backTransformedMeans } from '../../analyses/back-transformed-means.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import {
  backTransformed,
  type Transformation,
  transformed,
  usualOffset,
} from '../../analyses/transformation.ts';
import { type Problem, problem } from '../trial/problem.ts';
import { NO_MONEY_ON_SCALE, ratioReason, scaleMeaning, scaleUnit } from '../words/design-sentences.ts';
import type { ReportResponse } from './report-model.ts';
import { fromRefusal, type ReportRefusal } from './report-refusal.ts';
import type { ResponseFit } from './response-fit.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';

/** A response on the scale it is analysed on, with what that does to its judging. */
export interface ScaledResponse {
  readonly response: ResponsePlots;
  readonly judging: Judging;
  readonly surroundings: Surroundings;
  /** null: as it was measured. */
  readonly transformation: Transformation | null;
  /** Of the response as people read it. */
  readonly unit: string | null;
  readonly problems: readonly Problem[];
}

/**
 * The response on the scale that was chosen. A margin stands on the scale people read and cannot be carried over. Money is
 * reckoned from ratios on logarithms, and refused elsewhere, since a difference of roots or angles is no amount of crop.
 */
export function onChosenScale(
  response: ResponsePlots,
  judging: Judging,
  surroundings: Surroundings,
): ScaledResponse | ReportRefusal {
  const kind = response.model?.scale ?? null;
  const { unit } = response;
  if (kind === null) return { response, judging, surroundings, transformation: null, unit, problems: [] };
  const known = response.plots.flatMap(({ deviation }) => deviation ?? []);
  const values = known.map((deviation) => response.origin + deviation);
  const transformation: Transformation =
    kind === 'squareRoot' ? { kind, offset: usualOffset(values) } : { kind };
  const scaled = transformed({ origin: response.origin, deviations: known }, transformation);
  if (isRefusal(scaled)) return fromRefusal(scaled);
  const left = [...scaled.deviations];
  const plots = response.plots.map((plot) =>
    plot.deviation === null ? plot : { ...plot, deviation: left.shift() ?? 0 },
  );
  const problems =
    judging.margin === null ? [] : [problem('warning', 'marginNotOnScale', {}, { response: response.name })];
  return {
    response: { ...response, plots, origin: scaled.origin, unit: scaleUnit(kind, response.name, unit) },
    judging: { ...judging, margin: null },
    surroundings:
      kind === 'log' ? surroundings : { ...surroundings, money: null, whyNoMoney: NO_MONEY_ON_SCALE },
    transformation,
    unit,
    problems,
  };
}

/** The report with its means, and for logarithms its ratios, on the scale people read. */
export function broughtBack(
  report: ReportResponse,
  { means }: ResponseFit,
  { transformation, unit }: ScaledResponse,
): ReportResponse {
  if (transformation === null || report.refusal !== null) return report;
  const { kind } = transformation;
  const offset = kind === 'squareRoot' ? transformation.offset : 0;
  const back = backTransformedMeans(means, transformation, report.alpha);
  const backMeans = report.means.map(({ treatment, adjustedMean }, level) => {
    const own = isRefusal(back) ? undefined : back[level];
    return {
      treatment,
      mean: own?.mean ?? backTransformed(transformation, adjustedMean),
      lower: own?.lower ?? null,
      upper: own?.upper ?? null,
    };
  });
  const ratios = kind === 'log' ? report.answers.map(ratioOf) : [];
  const answers = report.answers.map((answer, i) => {
    const own = ratios[i];
    if (own === undefined) return answer;
    return {
      ...answer,
      reasons: [...answer.reasons, ratioReason(own.a, own.b, own.ratio, own.lower, own.upper)],
    };
  });
  const meaning = scaleMeaning(kind, offset);
  return { ...report, answers, transformation: { kind, offset, unit, means: backMeans, ratios, meaning } };
}

/** A difference of logarithms as a ratio, with the interval that decided. */
function ratioOf({ a, b, estimate, interval }: ReportResponse['answers'][number]) {
  const { lower, upper } = interval;
  return {
    a,
    b,
    ratio: Math.exp(estimate),
    lower: lower === null ? null : Math.exp(lower),
    upper: upper === null ? null : Math.exp(upper),
  };
}
