// What people mean a station to do for a while. The watch takes it into account and never needs it to stay safe: it ends by itself, and
// no alarm of danger hides behind it.

import { Temporal } from 'temporal-polyfill';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../wax/units.ts';
import { isShortBreak, nextOpening } from './calendar.ts';
import { type IntentKind, needsTime } from './intent-kind.ts';
import type { Site } from './lab.ts';

export interface Intent {
  readonly kind: IntentKind;
  /** Name of the person. */
  readonly by: string;
  readonly since: EpochMillis;
  /** When it ends by itself. */
  readonly until: EpochMillis;
}

/** So long it is shown that one ended by itself, for whoever meant it to last. */
export const ENDED_SHOWN_MILLIS = MILLIS_PER_HOUR;
/** A later time is more likely a slip than a plan. */
const LATEST_MILLIS = 36 * MILLIS_PER_HOUR;
/** Common practice. */
const MINUTES: Partial<Record<IntentKind, number>> = { 'topping-up': 30, cleaning: 90, 'probe-out': 240 };

/**
 * When the intent ends by itself; null where a time is needed and `asked` is none, is over, or lies too far ahead.
 * @example intentUntil('topping-up', site, at, null) // half an hour later
 */
export function intentUntil(
  kind: IntentKind,
  site: Site,
  at: EpochMillis,
  asked: EpochMillis | null,
): EpochMillis | null {
  if (needsTime(kind)) return asked !== null && asked > at && asked - at <= LATEST_MILLIS ? asked : null;
  const minutes = MINUTES[kind];
  if (minutes !== undefined) return epochMillis(at + minutes * MILLIS_PER_MINUTE);
  if (kind === 'off-today') return endOfDay(site, at);
  return morningAfter(site, at) ?? endOfDay(site, at);
}

/** The next opening after people were at home; lunch is no night. */
function morningAfter(site: Site, at: EpochMillis): EpochMillis | null {
  let opening = nextOpening(site, at);
  while (opening !== null && opening - at < LATEST_MILLIS && isShortBreak(site, epochMillis(opening - 1)))
    opening = nextOpening(site, opening);
  return opening;
}

const endOfDay = ({ timeZone }: Site, at: EpochMillis): EpochMillis =>
  epochMillis(
    Temporal.Instant.fromEpochMilliseconds(Math.floor(at))
      .toZonedDateTimeISO(timeZone)
      .add({ days: 1 })
      .startOfDay().epochMilliseconds,
  );
