// Resolved SenML records as readings of probes, whichever form the pack came in. A record of a unit that no probe
// measures in is refused by itself and the rest of the pack goes on.

import { type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { collectReadings, type GivenValue } from './collect-readings.ts';
import { inUnit, SENML_UNITS } from './measured-unit.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import type { ResolvedPack, ResolvedRecord } from './senml-resolve.ts';

/** What stands behind the last `/` or `:`, so that a whole device name and a bare id both work. */
const probeOf = (name: string): string =>
  name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf(':')) + 1);

/** A time later than now by more than jitter is no time from now but the running time of a clock never set. */
const MOST_FROM_NOW_MILLIS = 5 * MILLIS_PER_SECOND;

const stampOf = ({ time, timeIsAbsolute }: ResolvedRecord, receivedAt: number) => {
  const millis = time * MILLIS_PER_SECOND;
  const fromNow = millis - receivedAt;
  return timeIsAbsolute || fromNow <= MOST_FROM_NOW_MILLIS
    ? { millis, isStamped: timeIsAbsolute }
    : { millis: fromNow, isStamped: true };
};

/** What a gateway says of itself: the number of each sweep, and whether its clock was set. */
const SEQUENCE = 'gateway/sequence';
const CLOCK = 'gateway/clock';

const isSequence = ({ name, value }: ResolvedRecord): boolean =>
  name === SEQUENCE && Number.isSafeInteger(value) && Number(value) > 0;
const isClock = ({ name, value }: ResolvedRecord): boolean => name === CLOCK && typeof value === 'boolean';

const givenValue = (record: ResolvedRecord, receivedAt: number): Result<GivenValue> => {
  const { name, unit, value } = record;
  const quantity = inUnit(unit === null ? undefined : SENML_UNITS.get(unit), unit, name, value);
  return quantity.ok
    ? success({ probe: probeOf(name), quantity: quantity.value, ...stampOf(record, receivedAt) })
    : quantity;
};

/** `isHistorical`: the gateway sends the pack as past. */
export const senmlReadings = (
  message: Message,
  gateway: string,
  pack: ResolvedPack,
  { isHistorical = false } = {},
): Decoded => {
  const measured = pack.records.filter((record) => !isSequence(record) && !isClock(record));
  const given = measured.map((record) => givenValue(record, message.receivedAt));
  const { entries, rejections } = collectReadings(message, gateway, given, {
    isHistorical,
    isClockSet: !pack.records.some((record) => isClock(record) && record.value === false),
    sequences: pack.records.filter(isSequence).map(({ value }) => Number(value)),
  });
  return {
    entries,
    rejections: [...pack.problems.map((problem) => reject(message, problem)), ...rejections],
  };
};
