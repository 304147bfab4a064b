// Stretches of a record in which something held for longer than is let pass.

import type { PlaceRecord } from '../world/record.ts';

export interface Episode {
  readonly since: number;
  /** When it had held long enough to be harm. */
  readonly harm: number;
  readonly until: number;
}

/** @param holds called for each value of the record by its index and instant. */
export const episodes = (
  record: PlaceRecord,
  from: number,
  to: number,
  holdMillis: number,
  holds: (index: number, at: number) => boolean,
): readonly Episode[] => {
  const found: Episode[] = [];
  const first = Math.max(0, Math.ceil((from - record.from) / record.stepMillis));
  const last = Math.floor((to - record.from) / record.stepMillis);
  let since = Number.NaN;
  const close = (until: number) => {
    if (until - since >= holdMillis) found.push({ since, harm: since + holdMillis, until });
    since = Number.NaN;
  };
  for (let i = first; i <= last; i += 1) {
    const at = record.from + i * record.stepMillis;
    const is = holds(i, at);
    if (is && Number.isNaN(since)) since = at;
    if (!is && !Number.isNaN(since)) close(at);
  }
  if (!Number.isNaN(since)) close(Math.min(to, record.from + (last + 1) * record.stepMillis));
  return found;
};
