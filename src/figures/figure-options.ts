import type { ReportModel, ReportResponse } from '../findings/report-model.ts';

export interface FigureOptions {
  /** Width to lay out for; from about 320 (a telephone) upwards. */
  readonly widthPx: number;
  /** Prefix of the ids inside, for several figures on one page; by default the figure's own name. */
  readonly id?: string;
}

const NARROWEST_PX = 280;
const NARROW_BELOW_PX = 620;

export function checkedWidth(options: FigureOptions): number {
  if (!(options.widthPx >= NARROWEST_PX)) {
    throw new RangeError(`widthPx: expected at least ${NARROWEST_PX}, got ${options.widthPx}`);
  }
  return options.widthPx;
}

export function isNarrow(widthPx: number): boolean {
  return widthPx < NARROW_BELOW_PX;
}

export function responseNamed(report: ReportModel, name: string): ReportResponse {
  const response = report.responses.find((candidate) => candidate.name === name);
  if (response !== undefined) return response;
  const known = report.responses.map((candidate) => candidate.name).join(', ');
  throw new RangeError(`response: expected one of ${known}, got ${name}`);
}

/** "yield, t/ha", or the name alone where numbers stand as they were. */
export function responseHeading(response: Pick<ReportResponse, 'name' | 'unit'>): string {
  return response.unit === null ? response.name : `${response.name}, ${response.unit}`;
}

export function capitalised(text: string): string {
  const [first = '', ...rest] = [...text];
  return first.toUpperCase() + rest.join('');
}
