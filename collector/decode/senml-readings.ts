// Resolved SenML records as readings of probes, whichever form the pack came in. A record of a unit that no probe
// measures in is refused by itself and the rest of the pack goes on.

import { type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { collectReadings, type GivenValue } from './collect-readings.ts';
import { BATTERY_UNITS, type GivenStatus, type StatusFigure } from './device-status.ts';
import { inUnit, SENML_UNITS } from './measured-unit.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import type { ResolvedPack, ResolvedRecord } from './senml-resolve.ts';

/** What is behind the last `/` or `:`, so that a whole device name and a bare id both work. */
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

/** What a gateway reports of itself: the number of each sweep, the buffer that counts them, whether its clock was set. */
const SEQUENCE = 'gateway/sequence';
const BUFFER = 'gateway/buffer';
const CLOCK = 'gateway/clock';

const isSequence = ({ name, value }: ResolvedRecord): boolean =>
  name === SEQUENCE && Number.isSafeInteger(value) && Number(value) > 0;
const BUFFER_ID = /^[A-Za-z0-9._-]{1,64}$/;
const isBuffer = ({ name, value }: ResolvedRecord): boolean =>
  name === BUFFER && typeof value === 'string' && BUFFER_ID.test(value);
const isClock = ({ name, value }: ResolvedRecord): boolean => name === CLOCK && typeof value === 'boolean';

interface StatusUnit {
  readonly figure: StatusFigure;
  readonly divisor: number;
  readonly added: number;
}
/** Units of what a device reports of itself (RFC 8428, 12.1; dBm by RFC 8798), and what makes their values its figures. */
const STATUS_UNITS: ReadonlyMap<string | null, StatusUnit> = new Map([
  ['%EL', { figure: 'battery_percent', divisor: 1, added: 0 }],
  ['dBm', { figure: 'signal_dbm', divisor: 1, added: 0 }],
  ['dBW', { figure: 'signal_dbm', divisor: 1, added: 30 }],
] as const);

/** Volts of a sensor are its measurement, unless the name is that of a battery. */
const statusUnit = ({ name, unit }: ResolvedRecord): StatusUnit | undefined => {
  const battery = /[/:]battery$/i.test(name) ? BATTERY_UNITS.get(unit?.toLowerCase() ?? '') : undefined;
  return STATUS_UNITS.get(unit) ?? (battery && { ...battery, added: 0 });
};

/** The record may bear the name of the probe, or one below it: `pot-1`, `pot-1/battery`; `gateway` is the gateway. */
const statusOwner = (name: string): string | null => {
  const owner = probeOf(name.replace(/[/:](battery|signal|rssi)$/i, ''));
  return owner === 'gateway' ? null : owner;
};

const readStatus = (record: ResolvedRecord, receivedAt: number): GivenStatus | null => {
  const unit = statusUnit(record);
  if (unit === undefined) return null;
  const { name, value } = record;
  return {
    probe: statusOwner(name),
    figure: unit.figure,
    value: typeof value === 'number' ? value / unit.divisor + unit.added : value,
    millis: stampOf(record, receivedAt).millis,
  };
};

const readValue = (record: ResolvedRecord, receivedAt: number): Result<GivenValue> => {
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
  const given: Result<GivenValue>[] = [];
  const sequences: number[] = [];
  const statuses: GivenStatus[] = [];
  let isClockSet = true;
  let buffer: string | null = null;
  for (const record of pack.records) {
    const status = readStatus(record, message.receivedAt);
    if (status !== null) statuses.push(status);
    if (isSequence(record)) sequences.push(Number(record.value));
    else if (isBuffer(record)) buffer = String(record.value);
    else if (isClock(record)) isClockSet &&= record.value !== false;
    else if (status === null) given.push(readValue(record, message.receivedAt));
  }
  const facts = { isHistorical, isClockSet, sequences, buffer, statuses };
  const { entries, rejections } = collectReadings(message, gateway, given, facts);
  if (pack.problems.length === 0) return { entries, rejections };
  return {
    entries,
    rejections: [...pack.problems.map((problem) => reject(message, problem)), ...rejections],
  };
};
