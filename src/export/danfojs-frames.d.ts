/**
 * The little of danfojs that is used, declared by hand; `paths` in tsconfig.json leads here, since the published
 * types bring Node's and the DOM's globals into the pure rooms.
 */
export interface GroupedFrame {
  readonly columns: readonly string[];
  readonly values: readonly (readonly number[])[];
}

export interface ColumnGroups {
  agg(operations: Readonly<Record<string, 'mean' | 'count'>>): GroupedFrame;
}

export interface Frame {
  groupby(columns: readonly string[]): { col(columns: readonly string[]): ColumnGroups };
}

export const DataFrame: new (rows: readonly Readonly<Record<string, number>>[]) => Frame;
