import type { LinearModelFit } from '../../analyses/linear-model.ts';
import { anovaLabel } from '../words/anova-labels.ts';
import type { AnovaSource, ReportResponse } from './report-model.ts';
import type { Surroundings } from './response-plots.ts';

/** Blocks, treatments, error, total. Without error df the error's mean square is null. */
export function anovaRows(fit: LinearModelFit, headings: Surroundings): ReportResponse['anova'] {
  const terms = fit.rows.map((row) => {
    const source: AnovaSource = row.term === 'block' ? 'block' : 'treatment';
    const heading = source === 'block' ? headings.blockHeading : headings.treatmentHeading;
    const { df, ss, ms, f, p } = row;
    return { source, label: anovaLabel(source, heading), df, ss, ms, f, p };
  });
  const error = { source: 'error' as const, label: anovaLabel('error'), ...fit.error, f: null, p: null };
  const total = { source: 'total' as const, label: anovaLabel('total'), ...fit.total };
  return [...terms, error, { ...total, ms: null, f: null, p: null }];
}
