/** The little that is used, declared by hand: the published types bring tensors and the DOM into the pure rooms. */
declare module 'danfojs' {
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
}
