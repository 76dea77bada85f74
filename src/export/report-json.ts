import type { ReportModel } from '../findings/report-model.ts';

/** The report model as it is: keys in the model's order, two spaces, a line end at the end. */
export function reportJson(report: ReportModel): string {
  return `${JSON.stringify(report, null, 2)}\n`;
}
