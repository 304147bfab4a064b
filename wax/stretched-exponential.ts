// Stretched exponential of Kohlrausch, Williams and Watts: what share of a frozen-in strain has been released
// after the time `ratio` (in units of the time constant). It fits dental polymers better than one exponential;
// no fit to dental wax is known.

/** 1 - exp(-ratio^beta), for ratio from 0 and beta above 0 to 1; exact for small ratios too. */
export const releasedShare = (ratio: number, beta: number): number => -Math.expm1(-(ratio ** beta));
