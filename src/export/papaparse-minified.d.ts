/** The one function used, declared by hand: the published types bring Node's globals into the pure rooms. */
declare module 'papaparse/papaparse.min.js' {
  export interface UnparseInput {
    readonly fields: readonly string[];
    readonly data: readonly (readonly (string | number | null)[])[];
  }
  export interface UnparseConfig {
    readonly newline: string;
    /** Puts an apostrophe before text cells that begin with = + - @, a tab or a carriage return. */
    readonly escapeFormulae: boolean;
  }
  const Papa: { unparse(input: UnparseInput, config: UnparseConfig): string };
  export default Papa;
}
