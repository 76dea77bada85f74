import { decimalsFor, signedBound, withUnit } from '../words/number-formats.ts';
import { checksAreBlind, NO_PAIR_ALONE, pairAlone } from '../words/weakening-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { type AssumptionCheck, FEW_FOR_CHECKS } from './assumption-checks.ts';
import type { JudgedComparison } from './comparison-answer.ts';
import { pairedRow } from './comparison-rows.ts';

/**
 * What one error for all treatments does to an answer among three or more: where the checks doubt it, the pair by its
 * own differences as a second opinion; where too few error df leave the checks blind, that they are. Two treatments in
 * blocks are judged by their own differences anyway.
 */
export function varianceWeaknesses(
  one: JudgedComparison,
  analysed: AnalysedResponse,
  checks: readonly AssumptionCheck[],
): readonly string[] {
  const { fitted, names } = analysed;
  const { df } = fitted.fit.error;
  if (names.length < 3 || df === 0) return [];
  const isDoubted = checks.some(({ row }) => row.id.startsWith('equalVariances') && row.inDoubt === true);
  if (isDoubted) return [secondOpinion(one, analysed)];
  return df < FEW_FOR_CHECKS ? [checksAreBlind(df)] : [];
}

function secondOpinion(
  one: JudgedComparison,
  { design, judging, names, response, fitted }: AnalysedResponse,
) {
  const paired = pairedRow(one.pair, design, judging.alpha, names);
  if (paired === null || paired.p === null || paired.lower === null || paired.upper === null)
    return NO_PAIR_ALONE;
  const decimals = decimalsFor(paired.standardError, fitted.fit.grandMean);
  const range = `${signedBound(paired.lower, decimals)} to ${signedBound(paired.upper, decimals)}`;
  const isReal = paired.p < judging.alpha;
  return pairAlone(
    `${one.saidA} against ${one.saidB}`,
    withUnit(range, response.unit),
    paired.p,
    isReal,
    isReal === one.real,
  );
}
