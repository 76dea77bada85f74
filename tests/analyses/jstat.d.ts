/** The few functions of jstat that serve as a second opinion; the package ships no types. */
declare module 'jstat' {
  interface Jstat {
    readonly studentt: { cdf(x: number, df: number): number };
    readonly centralF: { cdf(x: number, df1: number, df2: number): number };
    readonly tukey: { cdf(q: number, groups: number, df: number): number };
  }
  const jstat: Jstat;
  export default jstat;
}
