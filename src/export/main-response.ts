import type { ReportModel, ReportResponse } from '../findings/report-model.ts';

/** The response that the page is about: the first with answers, else the first analysed, else the first. */
export function mainResponse(report: ReportModel): ReportResponse | null {
  const { responses } = report;
  return (
    responses.find(({ answers }) => answers.length > 0) ??
    responses.find(({ refusal }) => refusal === null) ??
    responses[0] ??
    null
  );
}
