/** The few functions used, declared by hand: the published types bring Node's globals into the pure rooms. */
declare module 'papaparse' {
  export interface ParseError {
    readonly type: string;
    readonly code: string;
    readonly row?: number;
  }
  export interface ParseResult {
    readonly data: string[][];
    readonly errors: readonly ParseError[];
  }
  export interface ParseConfig {
    readonly delimiter: string;
    readonly newline: '\n';
    readonly preview?: number;
  }
  const Papa: { parse(text: string, config: ParseConfig): ParseResult };
  export default Papa;
}
