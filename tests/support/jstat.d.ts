/** The few parts of jStat that the tests compare with; the library ships no types. */
declare module 'jstat' {
  interface Law {
    pdf(x: number, a: number, b: number): number;
    cdf(x: number, a: number, b: number): number;
    inv(p: number, a: number, b?: number): number;
  }
  const jStat: {
    readonly studentt: Law;
    readonly chisquare: Law;
    readonly centralF: Law;
    readonly beta: Law;
    readonly negbin: Law;
  };
  export default jStat;
}
