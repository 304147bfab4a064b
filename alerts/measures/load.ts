// What was put into an annealer or a bath to soften, and for how long it has been warm enough.

/** Plain JSON. */
export interface Load {
  readonly load: string;
  readonly since: number;
  /** Minutes at the softening temperature so far. */
  readonly soakedMinutes: number;
  /** Null while it is in. */
  readonly takenOutAt: number | null;
  readonly lastAt: number;
}

/** A longer silence does not count as warm. Common practice. */
const LONGEST_GAP_MINUTES = 5;

export const loadIn = (load: string, at: number): Load => ({
  load,
  since: at,
  soakedMinutes: 0,
  takenOutAt: null,
  lastAt: at,
});

/** Time counts while the place is at least as warm as the low end of its window. */
export function loadStep(load: Load, at: number, celsius: number, warmFrom: number): Load {
  const minutes = (at - load.lastAt) / 60_000;
  if (load.takenOutAt !== null || minutes <= 0) return load;
  const counts = celsius >= warmFrom && minutes <= LONGEST_GAP_MINUTES;
  return { ...load, lastAt: at, soakedMinutes: load.soakedMinutes + (counts ? minutes : 0) };
}
