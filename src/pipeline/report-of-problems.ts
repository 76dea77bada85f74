import { REPORT_VERSION, type ReportModel, type ReportProblem } from '../findings/report-model.ts';
import type { Problem } from '../trial/problem.ts';
import { problemSentence } from '../words/problem-sentences.ts';
import { MADE_BY } from './made-by.ts';

/** A report that holds nothing but what stopped it: where there was no trial to analyse. */
export function reportOfProblems(problems: readonly Problem[], name = ''): ReportModel {
  return {
    version: REPORT_VERSION,
    madeBy: MADE_BY,
    trial: {
      name,
      crop: null,
      design: null,
      unitSystem: null,
      files: [],
      settings: {},
      assumptions: [],
      changedAfterSeeing: [],
    },
    problems: problems.map(inWords),
    strips: [],
    responses: [],
    weighed: null,
  };
}

function inWords(problem: Problem): ReportProblem {
  const { message, whatToDo } = problemSentence(problem);
  const { code, severity, file, row, column } = problem;
  return { code, severity, file, row, column, message, whatToDo };
}
