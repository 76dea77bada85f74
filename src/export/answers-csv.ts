import type { ReportAnswer, ReportEconomics, ReportModel, ReportResponse } from '../findings/report-model.ts';
import { csvText } from './csv-text.ts';
import type { Cell, ReportTable } from './report-table.ts';

/** The answers: one row a comparison that matters, with both verdicts, what they were held against and what weakens them. */
export function answersTable(report: ReportModel): ReportTable {
  return {
    name: 'answers',
    headings: [
      'response',
      'unit',
      'a',
      'b',
      'difference verdict',
      'money verdict',
      'estimate',
      'lower',
      'upper',
      'level',
      'procedure',
      'margin',
      'break-even',
      'extra cost',
      'net return',
      'net return lower',
      'net return upper',
      'money unit',
      'sentence',
      'weaker because',
    ],
    rows: report.responses.flatMap((response) =>
      response.answers.map((answer) => answerRow(response, answer, economicsOf(response, answer))),
    ),
  };
}

export function answersCsv(report: ReportModel): string {
  return csvText(answersTable(report));
}

export function economicsOf(response: ReportResponse, { a, b }: ReportAnswer): ReportEconomics | null {
  return response.economics.find((row) => row.a === a && row.b === b) ?? null;
}

function answerRow(
  response: ReportResponse,
  answer: ReportAnswer,
  money: ReportEconomics | null,
): readonly Cell[] {
  const { interval, equivalence } = answer;
  return [
    response.name,
    response.unit,
    answer.a,
    answer.b,
    answer.difference,
    answer.money,
    answer.estimate,
    interval.lower,
    interval.upper,
    interval.level,
    interval.procedure,
    equivalence.margin,
    money?.breakEven ?? null,
    money?.extraCost ?? null,
    money?.netReturn ?? null,
    money?.netReturnLower ?? null,
    money?.netReturnUpper ?? null,
    money?.moneyUnit ?? null,
    answer.sentence,
    answer.weakens.join(' '),
  ];
}
