// The part used here of a general statistics package that ships no types.

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
