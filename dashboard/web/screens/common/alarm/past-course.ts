// What is left to know of an alarm that is over: how long it was so, and which of its readings went farthest. Pure.

import type { Extreme } from '../../../../../alerts/watch/rule/rule.ts';
import type { AlarmView, SeriesView } from '../../../../api/schemas.ts';

const ENDS = ['cleared', 'learned'];
const BEGINS = ['raised', 'raised-again'];

/** Seconds in which it was so; the time between an end and being raised again does not count. */
export const secondsSo = ({
  raisedAt,
  clearedAt,
  history,
}: Pick<AlarmView, 'raisedAt' | 'clearedAt' | 'history'>): number => {
  let since: number | null = Date.parse(raisedAt);
  let millis = 0;
  for (const { at, kind } of history) {
    if (since === null && BEGINS.includes(kind)) since = Date.parse(at);
    if (since === null || !ENDS.includes(kind)) continue;
    // One that is learned of late ended when it ended.
    millis += Date.parse(kind === 'learned' && clearedAt !== null ? clearedAt : at) - since;
    since = null;
  }
  if (since !== null && clearedAt !== null) millis += Date.parse(clearedAt) - since;
  return Math.max(0, millis / 1000);
};

/** The reading that went farthest, in °C, and when its bucket began; null without readings. */
export const findFarthest = (
  { buckets }: Pick<SeriesView, 'buckets'>,
  extreme: Extreme,
): { readonly celsius: number; readonly at: string } | null => {
  const readings = buckets.map(({ at, min, max }) => ({ at, celsius: extreme === 'highest' ? max : min }));
  const sign = extreme === 'highest' ? 1 : -1;
  return readings.reduce<(typeof readings)[number] | null>(
    (best, next) => (best === null || sign * next.celsius > sign * best.celsius ? next : best),
    null,
  );
};
