/** A flat table on its way to a file: text cells as the user wrote them, numbers as numbers, null for unknown. */
export type Cell = string | number | null;

export interface ReportTable {
  /** Of the file and of the sheet. */
  readonly name: string;
  /** With units in parentheses. */
  readonly headings: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

export function withUnitInHeading(name: string, unit: string | null): string {
  return unit === null ? name : `${name} (${unit})`;
}

export function yesOrNo(value: boolean): string {
  return value ? 'yes' : 'no';
}
