// The one function used of the package, which ships no types.

declare module 'bessel' {
  const bessel: {
    /** Bessel function of the first kind, integer order n; absolute error about 1e-8. */
    besselj(x: number, n: number): number;
  };
  export default bessel;
}
