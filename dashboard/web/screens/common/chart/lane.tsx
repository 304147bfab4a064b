// The lane: one hour of a station running into the reading now, over the band of its window and under the hard
// edge of its ceiling. What lies above the ceiling is hatched: the wax must never be there.

import type { StationView } from '../../../../api/schemas.ts';
import { type Anchor, LANE, laneAnchors, laneHeight } from './lane-scale.ts';

const HOUR_MILLIS = 3_600_000;
/** A pause longer than this between two points is drawn as a gap. */
const GAP_MILLIS = 150_000;

const percent = (height: number): string => `${((1 - height) * 100).toFixed(2)}%`;

/** Path on a field of 100 by 100; gaps lift the pen. */
const tracePath = (
  trend: StationView['trend'],
  anchors: readonly Anchor[],
  now: number,
  last: { readonly at: number; readonly celsius: number } | null,
): string => {
  const points = trend.map((point) => ({ at: Date.parse(point.at), celsius: point.mean }));
  if (last) points.push(last);
  let before = Number.NEGATIVE_INFINITY;
  let path = '';
  for (const { at, celsius } of points) {
    const x = 100 * (1 - (now - at) / HOUR_MILLIS);
    if (x < 0 || x > 101) continue;
    const y = 100 * (1 - laneHeight(anchors, celsius));
    path += `${at - before > GAP_MILLIS ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`;
    before = at;
  }
  return path;
};

interface LaneProps {
  readonly station: StationView;
  readonly now: number;
  readonly isLive: boolean;
}

export const Lane = ({ station, now, isLive }: LaneProps) => {
  const limits = {
    low: station.windowLow?.value ?? null,
    high: station.windowHigh?.value ?? null,
    ceiling: station.ceiling?.value ?? null,
  };
  const anchors = laneAnchors(limits, station.celsius);
  const last =
    station.celsius !== null && station.at !== null
      ? { at: Date.parse(station.at), celsius: station.celsius }
      : null;
  return (
    <>
      {limits.high !== null && (
        <div
          class="lane-window"
          style={{
            insetBlockStart: percent(LANE.high),
            // A storage place has an upper end only: its band reaches the floor.
            blockSize: `${(LANE.high - (limits.low === null ? 0 : LANE.low)) * 100}%`,
          }}
        />
      )}
      {limits.ceiling !== null && (
        <div class="lane-ceiling" style={{ blockSize: `${(1 - LANE.ceiling) * 100}%` }} />
      )}
      {anchors && (
        <svg class="lane-trace" viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
          <path d={tracePath(station.trend, anchors, now, isLive ? last : null)} />
        </svg>
      )}
      {anchors && last && isLive && (
        <div class="lane-now" style={{ '--height-now': percent(laneHeight(anchors, last.celsius)) }} />
      )}
    </>
  );
};
