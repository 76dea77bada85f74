import type { Refusal } from '../../analyses/refusal.ts';
import {
  confoundedTreatments,
  emptyCombinations,
  partlyComparable,
  refusalWords,
} from '../words/refusal-sentences.ts';
import type { ReportResponse } from './report-model.ts';

/** A refusal as the report shows it; also the result of a step that could not be taken. */
export type ReportRefusal = NonNullable<ReportResponse['refusal']>;

export function reportRefusal(code: string, details: Refusal['details'] = {}): ReportRefusal {
  return { code, ...refusalWords(code, details) };
}

export function fromRefusal(refusal: Refusal): ReportRefusal {
  return reportRefusal(refusal.code, refusal.details);
}

export function unlinkedTreatments(groups: readonly (readonly string[])[]): ReportRefusal {
  return { code: 'confoundedTerms', ...confoundedTreatments(groups) };
}

export function untriedCombinations(cells: readonly string[]): ReportRefusal {
  return { code: 'emptyCell', ...emptyCombinations(cells) };
}

/** With the groups of treatments that can be compared among themselves beside what the treatments line up with. */
export function withComparable(
  refusal: ReportRefusal,
  groups: readonly (readonly string[])[],
  beside: readonly string[],
): ReportRefusal {
  return { code: refusal.code, ...partlyComparable(refusal, groups, beside) };
}

export function isReportRefusal(result: object): result is ReportRefusal {
  return 'whatWouldHelp' in result;
}
