import type { AnovaRow } from '../../analyses/linear-model.ts';
import { anovaLabel } from '../words/anova-labels.ts';
import type { AnovaSource, ReportResponse } from './report-model.ts';
import type { ResponseFit } from './response-fit.ts';
import { PLAIN_MODEL, type ResponsePlots, type Surroundings } from './response-plots.ts';

/**
 * Blocks, rows and columns, covariate and trend, treatments (or two factors and their interaction), error, total. Without
 * error df the error's mean square is null.
 */
export function anovaRows(
  { fit, factorial, trend }: ResponseFit,
  response: ResponsePlots,
  headings: Surroundings,
): ReportResponse['anova'] {
  const rowsOfTerms = (factorial ?? fit).rows.filter(({ term }) => term !== 'trendSquared');
  const terms = rowsOfTerms.map((row) => {
    const source = row.term as AnovaSource;
    const { df, ss, ms, f, p }: AnovaRow = source === 'trend' ? (trend ?? row) : row;
    return { source, label: anovaLabel(source, ownHeading(source, response, headings)), df, ss, ms, f, p };
  });
  const error = { source: 'error' as const, label: anovaLabel('error'), ...fit.error, f: null, p: null };
  const total = { source: 'total' as const, label: anovaLabel('total'), ...fit.total };
  return [...terms, error, { ...total, ms: null, f: null, p: null }];
}

export function ownHeading(
  source: AnovaSource,
  response: ResponsePlots,
  headings: Pick<Surroundings, 'treatmentHeading' | 'blockHeading'>,
): string | null {
  const { square, factors, covariate, machine, trend } = response.model ?? PLAIN_MODEL;
  const own: Readonly<Partial<Record<AnovaSource, string | null | undefined>>> = {
    treatment: headings.treatmentHeading,
    block: headings.blockHeading,
    row: square?.rows.heading,
    column: square?.columns.heading,
    factorA: factors?.a.heading,
    factorB: factors?.b.heading,
    'factorA:factorB': factors === null ? null : `${factors.a.heading} x ${factors.b.heading}`,
    covariate,
    machine: machine?.heading,
    trend: trend?.heading,
  };
  return own[source] ?? null;
}
