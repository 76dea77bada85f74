import { bonferroni } from '../../analyses/bonferroni.ts';
import { dunnett } from '../../analyses/dunnett.ts';
import { holm } from '../../analyses/holm.ts';
import type { JudgedDifference, PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';
import { tukey } from '../../analyses/tukey.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { PairDecisions } from './mean-rows.ts';
import type { ReportProcedure } from './report-model.ts';

/** What one procedure makes of the comparisons that it is made for. */
export interface ShownProcedure {
  readonly procedure: ReportProcedure;
  readonly rows: readonly JudgedDifference[];
  /** Whether it judged every pair, so that letters can be given. */
  readonly everyPair: boolean;
}

/**
 * All procedures beside the LSD, whichever of them decides: Tukey on every pair, Dunnett on each treatment against the
 * check, Bonferroni and Holm on the comparisons that matter. Where only one comparison is there all of them are the one
 * t test, and the deciding one alone is shown.
 *
 * @param all - every pair
 * @param matter - the comparisons that matter
 * @param decider - shown in any case
 */
export function shownProcedures(
  { judging, design, fitted, matter: asked }: AnalysedResponse,
  all: readonly PairwiseDifference[],
  matter: readonly PairwiseDifference[],
  decider: string | null,
): readonly ShownProcedure[] {
  const { alpha } = judging;
  const treatments = design.treatments.length;
  const check = judging.check === null ? -1 : design.treatments.indexOf(judging.check);
  const family = asked.kind === 'allPairs';
  const wanted = (procedure: ReportProcedure, comparisons: number) =>
    comparisons > 1 || (comparisons === 1 && procedure === decider);
  return [
    ...(wanted('tukey', all.length) ? shown('tukey', true, tukey(all, treatments, alpha)) : []),
    ...(wanted('dunnett', check < 0 ? 0 : treatments - 1)
      ? shown('dunnett', false, dunnett(fitted.means, check, alpha))
      : []),
    ...(wanted('bonferroni', matter.length) ? shown('bonferroni', family, bonferroni(matter, alpha)) : []),
    ...(wanted('holm', matter.length) ? shown('holm', family, holm(matter, alpha)) : []),
  ];
}

function shown(
  procedure: ReportProcedure,
  everyPair: boolean,
  judged: { readonly comparisons: readonly JudgedDifference[] } | Refusal,
): readonly ShownProcedure[] {
  return isRefusal(judged) ? [] : [{ procedure, rows: judged.comparisons, everyPair }];
}

/** Decisions for letters; all of these procedures call real what their adjusted p puts below alpha. */
export function letterDecisions(
  procedures: readonly ShownProcedure[],
  alpha: number,
): readonly PairDecisions[] {
  return procedures
    .filter(({ everyPair }) => everyPair)
    .map(({ procedure, rows }) => ({ procedure, rows, real: rows.map(({ p }) => p < alpha) }));
}
