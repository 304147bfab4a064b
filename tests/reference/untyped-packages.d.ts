// The parts used here of two general numeric packages that ship no types.

declare module 'jstat' {
  const jstat: {
    readonly jStat: {
      readonly normal: {
        cdf(x: number, mean: number, deviation: number): number;
        inv(p: number, mean: number, deviation: number): number;
      };
      readonly studentt: { inv(p: number, degreesOfFreedom: number): number };
    };
  };
  export default jstat;
}

declare module 'fmin';

/** As an ES module the package exports nothing and leaves this instead. */
declare var fmin: {
  nelderMead(
    loss: (x: number[]) => number,
    start: readonly number[],
    options?: {
      readonly maxIterations?: number;
      readonly minErrorDelta?: number;
      readonly minTolerance?: number;
    },
  ): { readonly x: number[]; readonly fx: number };
};
