import type { Problem } from '../trial/problem.ts';
import { problemSentence } from '../words/problem-sentences.ts';
import type { ReportProblem } from './report-model.ts';

/** Codes become words here, once, so that every screen and file says the same. */
export function reportProblems(problems: readonly Problem[]): ReportProblem[] {
  return problems.map(({ code, severity, file, row, column, details }) => ({
    code,
    severity,
    file,
    row,
    column,
    ...problemSentence({ code, details }),
  }));
}
