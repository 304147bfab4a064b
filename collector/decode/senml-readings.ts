// Resolved SenML records as readings of probes, whichever form the pack came in. The units Cel and K are
// temperatures; every other record is refused by itself and the rest of the pack goes on.

import type { Reading } from '../../lab/reading.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { ABSOLUTE_ZERO_CELSIUS, epochMillis, MILLIS_PER_SECOND } from '../../wax/units.ts';
import { probeId } from './identifier.ts';
import { AGELESS, canBeHeld, clockProblem, noInstant } from './measured-at.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import type { Rejection } from './rejection.ts';
import type { ResolvedPack, ResolvedRecord } from './senml-resolve.ts';
import { temperature } from './temperature.ts';

/** Units of the SenML registry that are temperatures, as what is added for degrees Celsius. */
const CELSIUS_OFFSET: Readonly<Record<string, number>> = { Cel: 0, K: ABSOLUTE_ZERO_CELSIUS };

const celsiusOf = (record: ResolvedRecord): Result<number> => {
  if (record.unit === null) return failure('unit-missing', { name: record.name });
  const offset = Object.hasOwn(CELSIUS_OFFSET, record.unit) ? CELSIUS_OFFSET[record.unit] : undefined;
  if (offset === undefined) return failure('unit-not-temperature', { name: record.name }, record.unit);
  if (typeof record.value !== 'number') return failure('value-not-a-number', { name: record.name });
  // Kelvin to Celsius leaves binary noise behind; a billionth of a degree is no measurement.
  return success(Math.round((record.value + offset) * 1e9) / 1e9);
};

/** What stands behind the last `/` or `:`, so that a whole device name and a bare id both work. */
const probeOf = (name: string): Result<string> =>
  probeId(name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf(':')) + 1));

/** A time later than now by more than jitter is no time from now but the running time of a clock never set. */
const MOST_FROM_NOW_MILLIS = 5 * MILLIS_PER_SECOND;

interface StampedReading {
  readonly reading: Reading;
  /** Whether the instant was stamped by the gateway's clock; else it follows from the arrival. */
  readonly isStamped: boolean;
}

const stampOf = ({ time, timeIsAbsolute }: ResolvedRecord, receivedAt: number) => {
  const millis = Math.round(time * MILLIS_PER_SECOND);
  const fromNow = millis - receivedAt;
  return timeIsAbsolute || fromNow <= MOST_FROM_NOW_MILLIS
    ? { stamp: millis, isStamped: timeIsAbsolute }
    : { stamp: fromNow, isStamped: true };
};

const readingOf = (record: ResolvedRecord, message: Message): Result<StampedReading> => {
  const degrees = celsiusOf(record);
  if (!degrees.ok) return degrees;
  const probe = probeOf(record.name);
  if (!probe.ok) return probe;
  const value = temperature(degrees.value);
  if (!value.ok) return value;
  const { stamp, isStamped } = stampOf(record, message.receivedAt);
  if (!isStamped && message.delivery === 'retained') return { ok: false, problem: AGELESS };
  const impossible = noInstant(stamp, message.receivedAt);
  if (impossible !== null && (!isStamped || !canBeHeld(stamp))) return { ok: false, problem: impossible };
  // What the broker keeps may be of any age, and such a clock does not tell it.
  if (message.delivery === 'retained' && clockProblem(stamp, message.receivedAt) !== null)
    return { ok: false, problem: AGELESS };
  return success({
    isStamped,
    reading: {
      probe: probe.value,
      at: epochMillis(stamp),
      celsius: value.value,
      quality: isStamped || message.delivery === 'live' ? 'good' : 'uncertain-time',
    },
  });
};

export const senmlReadings = (message: Message, gateway: string, pack: ResolvedPack): Decoded => {
  const { receivedAt } = message;
  const rejections: Rejection[] = pack.problems.map((problem) => reject(message, problem));
  const stamped: Reading[] = [];
  const unstamped: Reading[] = [];
  for (const record of pack.records) {
    const made = readingOf(record, message);
    if (!made.ok) rejections.push(reject(message, made.problem));
    else (made.value.isStamped ? stamped : unstamped).push(made.value.reading);
  }
  // Beside instants of this lab one that is none is a mistake; alone they show a wrong clock.
  const possible = stamped.filter(({ at }) => noInstant(at, receivedAt) === null);
  const taken = possible.length > 0 ? possible : stamped;
  if (taken.length < stamped.length)
    for (const { at } of stamped) {
      const impossible = noInstant(at, receivedAt);
      if (impossible !== null) rejections.push(reject(message, impossible));
    }
  const newest = taken.reduce((latest, { at }) => Math.max(latest, at), Number.NEGATIVE_INFINITY);
  const wrong = taken.length > 0 ? clockProblem(newest, receivedAt) : null;
  if (wrong !== null) rejections.push(reject(message, wrong));
  const entry = { kind: 'readings' as const, receivedAt, gateway };
  return {
    entries: [
      ...(taken.length > 0 ? [{ ...entry, readings: taken }] : []),
      ...(unstamped.length > 0 ? [{ ...entry, readings: unstamped, stampedBy: 'arrival' as const }] : []),
    ],
    rejections,
  };
};
