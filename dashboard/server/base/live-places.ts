// Who may take another place on the live stream: a share for each person and program, and places that only walls get,
// so that nobody can lock the wall out. Pure.

export interface Place {
  /** Walls are known by their link; nobody else takes the places kept for them. */
  readonly isWall: boolean;
  /** The person, token or link behind it; null for a visitor of a demonstration, who has no share of its own. */
  readonly owner: string | null;
}

/** Tabs, a phone and a tablet of one person. */
const SHARE = 10;
/** Of all places, for walls alone. */
const WALL_SHARE = 0.2;

/** The limit that is reached, or null when there is room. */
export function limitReached(taken: Iterable<Place>, asking: Place, most: number): number | null {
  const places = [...taken];
  if (places.length >= most) return most;
  if (asking.owner !== null && places.filter(({ owner }) => owner === asking.owner).length >= SHARE)
    return SHARE;
  const forOthers = most - Math.floor(most * WALL_SHARE);
  if (!asking.isWall && places.filter(({ isWall }) => !isWall).length >= forOthers) return forOthers;
  return null;
}
