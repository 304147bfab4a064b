// Stretched exponential of Kohlrausch, Williams and Watts: what share of a frozen-in strain has been released
// after the time `ratio` (in units of the time constant). It fits dental polymers better than one exponential;
// no fit to dental wax is known.

/** 1 - exp(-ratio^beta), for ratio from 0 and beta above 0 to 1; exact for small ratios too. */
export const releasedShare = (ratio: number, beta: number): number => -Math.expm1(-(ratio ** beta));

/** The time, in units of the time constant, after which `share` (0 to 1) is released; Infinity for 1 and above. */
export const ratioAtReleased = (share: number, beta: number): number =>
  share >= 1 ? Number.POSITIVE_INFINITY : (-Math.log1p(-share)) ** (1 / beta);
