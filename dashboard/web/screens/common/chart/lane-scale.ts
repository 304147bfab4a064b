// The one scale of every station: whatever its temperatures, its working window lies at the same height and its
// ceiling at the same height, so that a row of healthy stations is one level line and what leaves it is seen from
// across the room. Piecewise linear and strictly rising; outside its ends a reading is held at the edge.

export interface Limits {
  readonly low: number | null;
  readonly high: number | null;
  readonly ceiling: number | null;
}

/** Heights on the lane, 0 at the bottom, 1 at the top. */
export const LANE = { bottom: 0.05, low: 0.28, high: 0.58, ceiling: 0.8, top: 0.97 } as const;
/** Where the lowest mark of the scale lies below the window, in window widths; a cold heater is far below. */
const BELOW_WINDOWS = 3;
const ROOM_CELSIUS = 20;
/** Stands in for a limit that a station does not have, so that its trace still has a height. */
const FALLBACK_WIDTH_CELSIUS = 6;

export type Anchor = readonly [celsius: number, height: number];

/** Null when the station has no limit at all and no reading to hang a scale on. */
export const laneAnchors = (limits: Limits, celsius: number | null): readonly Anchor[] | null => {
  const high = limits.high ?? (limits.ceiling !== null ? limits.ceiling - FALLBACK_WIDTH_CELSIUS : null);
  const middle = high ?? (celsius === null ? null : celsius + FALLBACK_WIDTH_CELSIUS / 2);
  if (middle === null) return null;
  const low = limits.low !== null && limits.low < middle ? limits.low : middle - FALLBACK_WIDTH_CELSIUS;
  const width = middle - low;
  const ceiling = limits.ceiling !== null && limits.ceiling > middle ? limits.ceiling : middle + width;
  const bottom = Math.min(low - BELOW_WINDOWS * width, Math.max(ROOM_CELSIUS, low - 10 * width) - 2);
  return [
    [bottom, LANE.bottom],
    [low, LANE.low],
    [middle, LANE.high],
    [ceiling, LANE.ceiling],
    [ceiling + (ceiling - middle), LANE.top],
  ];
};

export const laneHeight = (anchors: readonly Anchor[], celsius: number): number => {
  const first = anchors[0];
  const last = anchors.at(-1);
  if (!first || !last) return 0.5;
  if (celsius <= first[0]) return first[1];
  for (let index = 1; index < anchors.length; index += 1) {
    const from = anchors[index - 1];
    const to = anchors[index];
    if (from && to && celsius <= to[0])
      return from[1] + ((celsius - from[0]) / (to[0] - from[0])) * (to[1] - from[1]);
  }
  return last[1];
};
