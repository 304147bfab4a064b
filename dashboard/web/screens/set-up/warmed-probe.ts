// The last minutes of probes that nobody has placed yet, so that the one in a warm hand shows. Pure.

import type { ProbeView } from '../../../api/schemas.ts';

export interface TracePoint {
  /** Unix milliseconds. */
  readonly at: number;
  readonly celsius: number;
}
export type Traces = ReadonlyMap<string, readonly TracePoint[]>;

const SPAN_MILLIS = 180_000;
/** A hand warms a probe by more than this within minutes, a room does not; common practice. */
const WARMED_KELVINS = 1;

/** With the newest value of each probe; what is older than three minutes falls off. */
export function tracesWith(before: Traces, probes: readonly ProbeView[]): Traces {
  return new Map(
    probes.map(({ id, at, celsius }) => {
      const points = before.get(id) ?? [];
      if (at === null || celsius === null) return [id, points];
      const point = { at: Date.parse(at), celsius };
      const newest = points.at(-1);
      if (newest !== undefined && point.at <= newest.at) return [id, points];
      return [id, [...points, point].filter((each) => point.at - each.at <= SPAN_MILLIS)];
    }),
  );
}

/** How far the newest value is above the lowest one before it; null with fewer than two points. */
export function rise(points: readonly TracePoint[]): number | null {
  const newest = points.at(-1);
  if (newest === undefined || points.length < 2) return null;
  return newest.celsius - Math.min(...points.slice(0, -1).map(({ celsius }) => celsius));
}

/** The probe that rose most, where it rose as only a hand makes it; null else. */
export function findWarmedProbe(traces: Traces): string | null {
  let best: { readonly id: string; readonly kelvins: number } | null = null;
  for (const [id, points] of traces) {
    const kelvins = rise(points);
    if (kelvins !== null && kelvins >= WARMED_KELVINS && kelvins > (best?.kelvins ?? 0))
      best = { id, kelvins };
  }
  return best?.id ?? null;
}

const LEAST_SPAN_KELVINS = 2;

/** Points of a polyline on a field of 100 by 20; a still probe is a level line. */
export function traceLine(points: readonly TracePoint[], now: number): string {
  const low = Math.min(...points.map(({ celsius }) => celsius));
  const high = Math.max(...points.map(({ celsius }) => celsius), low + LEAST_SPAN_KELVINS);
  return points
    .map(({ at, celsius }) => {
      const x = Math.max(0, 100 * (1 - (now - at) / SPAN_MILLIS));
      return `${x.toFixed(1)},${(19 - (18 * (celsius - low)) / (high - low)).toFixed(1)}`;
    })
    .join(' ');
}
