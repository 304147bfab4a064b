// The values of one message as journal entries, whichever format they came in: instants checked against the time of
// arrival, temperatures against what a probe can measure, bare ohms and millivolts kept as they are. A value that is
// refused is refused by itself and the others go on.

import type { DeviceStatus } from '../../lab/device-status.ts';
import type { ReadingsEntry } from '../../lab/entry.ts';
import type { ElectricalReading, Quality, Reading } from '../../lab/reading.ts';
import { failure, type Problem, type Result, success } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { deviceStatus, type GivenStatus } from './device-status.ts';
import { probeId } from './identifier.ts';
import { AGELESS, canBeHeld, clockProblem, noInstant } from './measured-at.ts';
import type { MeasuredQuantity } from './measured-unit.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { temperature } from './temperature.ts';

export interface GivenValue {
  readonly probe: string;
  readonly quantity: MeasuredQuantity;
  /** Unix milliseconds. */
  readonly millis: number;
  /** Whether the instant was stamped by the gateway's clock; else it follows from the arrival. */
  readonly isStamped: boolean;
  /** The sender marked it as doubtful. */
  readonly isDoubted?: boolean;
  /** The sender marked it as of the past. */
  readonly isHistorical?: boolean;
}

interface Taken {
  readonly reading: Reading | ElectricalReading;
  readonly timing: 'stamped' | 'arrival' | 'historical';
}

/** Electrical values beyond these are a fault of the wiring or of the unit; common practice. */
const MOST_OHMS = 10_000_000;
const MOST_MILLIVOLTS = 100;

function electrical({ unit, value }: Extract<MeasuredQuantity, { kind: 'electrical' }>) {
  const [least, most] = unit === 'Ohm' ? [0, MOST_OHMS] : [-MOST_MILLIVOLTS, MOST_MILLIVOLTS];
  return value >= least && value <= most
    ? success({ unit, value })
    : failure('electrical-out-of-range', { least, most, unit }, value);
}

/** Why the instant cannot be taken, whatever the others of the message are; null when it can. */
function instantProblem(stamp: number, given: GivenValue, message: Message): Problem | null {
  const { isStamped, isHistorical = false } = given;
  const isRetained = message.delivery === 'retained';
  if (!isStamped && isRetained) return AGELESS;
  const impossible = noInstant(stamp, message.receivedAt);
  if (impossible !== null && (isHistorical || !isStamped || !canBeHeld(stamp))) return impossible;
  // Retained messages may be of any age, and such a clock does not show it.
  return isRetained && clockProblem(stamp, message.receivedAt) !== null ? AGELESS : null;
}

function take(given: GivenValue, message: Message): Result<Taken> {
  const { quantity, isStamped, isDoubted = false, isHistorical = false } = given;
  const probe = probeId(given.probe);
  if (!probe.ok) return probe;
  const value = quantity.kind === 'celsius' ? temperature(quantity.celsius) : electrical(quantity);
  if (!value.ok) return value;
  const stamp = Math.round(given.millis);
  const refused = instantProblem(stamp, given, message);
  if (refused !== null) return { ok: false, problem: refused };
  const isCertain = isStamped || message.delivery === 'live';
  const quality: Quality = isDoubted ? 'suspect' : isCertain ? 'good' : 'uncertain-time';
  const timing = isHistorical ? 'historical' : isStamped ? 'stamped' : 'arrival';
  const at = epochMillis(stamp);
  return success({
    timing,
    reading:
      typeof value.value === 'number'
        ? { probe: probe.value, at, quality, celsius: value.value }
        : { probe: probe.value, at, quality, unit: value.value.unit, value: value.value.value },
  });
}

/** What a gateway states about a message as a whole. */
export interface MessageFacts {
  readonly isHistorical?: boolean;
  readonly isClockSet?: boolean;
  readonly sequences?: readonly number[];
  /** The buffer whose numbers they are. */
  readonly buffer?: string | null;
  readonly statuses?: readonly GivenStatus[];
}

const ofWhole = (given: GivenValue, { isHistorical = false }: MessageFacts): GivenValue =>
  isHistorical ? { ...given, isHistorical } : given;

const NO_FACTS: MessageFacts = {};

/** Problems are in `given` for values that could not be read. */
export function collectReadings(
  message: Message,
  gateway: string,
  given: readonly Result<GivenValue>[],
  facts: MessageFacts = NO_FACTS,
): Decoded {
  const { receivedAt } = message;
  const problems: Problem[] = [];
  const taken: Record<Taken['timing'], Taken[]> = { stamped: [], arrival: [], historical: [] };
  for (const value of given) {
    const result = value.ok ? take(ofWhole(value.value, facts), message) : value;
    if (result.ok) taken[result.value.timing].push(result.value);
    else problems.push(result.problem);
  }
  const stamped = withoutImpossible(taken.stamped, receivedAt, problems);
  const { isClockSet = true, sequences = NO_SEQUENCES, buffer = null } = facts;
  const statuses = statusesOf(facts.statuses ?? NO_STATUSES, receivedAt, problems);
  const entries: Decoded['entries'][number][] = [];
  const entry = { kind: 'readings' as const, receivedAt, gateway };
  if (stamped.length > 0) entries.push(entryOf(entry, isClockSet ? stamped : stamped.map(uncertain)));
  if (taken.arrival.length > 0) entries.push(entryOf({ ...entry, stampedBy: 'arrival' }, taken.arrival));
  if (taken.historical.length > 0)
    entries.push(
      entryOf(
        { ...entry, isHistorical: true },
        isClockSet ? taken.historical : taken.historical.map(uncertain),
      ),
    );
  if (sequences.length > 0)
    entries.push({
      kind: 'sequence',
      receivedAt,
      gateway,
      sequences: [...sequences],
      ...(buffer !== null && { buffer }),
    });
  // Behind the readings, so that a probe that is new by them can have a status.
  if (statuses.length > 0) entries.push({ kind: 'device-status', receivedAt, gateway, statuses });
  return { entries, rejections: problems.map((problem) => reject(message, problem)) };
}

const NO_SEQUENCES: readonly number[] = [];
const NO_STATUSES: readonly GivenStatus[] = [];

function statusesOf(
  given: readonly GivenStatus[],
  receivedAt: Message['receivedAt'],
  problems: Problem[],
): readonly DeviceStatus[] {
  const statuses: DeviceStatus[] = [];
  for (const each of given) {
    const status = deviceStatus(each, receivedAt);
    if (status.ok) statuses.push(status.value);
    else problems.push(status.problem);
  }
  return statuses;
}

/**
 * Those whose instants are taken, with what is wrong of the others in `problems`: beside instants of this lab one that is
 * none is a mistake; alone they show a wrong clock.
 */
function withoutImpossible(
  stamped: readonly Taken[],
  receivedAt: Message['receivedAt'],
  problems: Problem[],
): readonly Taken[] {
  if (stamped.length === 0) return stamped;
  const impossible: Problem[] = [];
  for (const { reading } of stamped) {
    const reason = noInstant(reading.at, receivedAt);
    if (reason !== null) impossible.push(reason);
  }
  const isMistake = impossible.length > 0 && impossible.length < stamped.length;
  const believed = isMistake
    ? stamped.filter(({ reading }) => noInstant(reading.at, receivedAt) === null)
    : stamped;
  if (isMistake) problems.push(...impossible);
  let newest = Number.NEGATIVE_INFINITY;
  for (const { reading } of believed) if (reading.at > newest) newest = reading.at;
  const wrong = clockProblem(newest, receivedAt);
  if (wrong !== null) problems.push(wrong);
  return believed;
}

const uncertain = ({ reading, timing }: Taken): Taken => ({
  timing,
  reading: reading.quality === 'good' ? { ...reading, quality: 'uncertain-time' } : reading,
});

/** Field by field where nothing is electrical, as in nearly every message: copies cost several times as much. */
function entryOf(entry: Omit<ReadingsEntry, 'readings'>, taken: readonly Taken[]): ReadingsEntry {
  const readings: Reading[] = [];
  const electricals: ElectricalReading[] = [];
  for (const { reading } of taken)
    if ('celsius' in reading) readings.push(reading);
    else electricals.push(reading);
  const { receivedAt, gateway } = entry;
  if (electricals.length === 0 && entry.stampedBy === undefined && entry.isHistorical === undefined)
    return { kind: 'readings', receivedAt, gateway, readings };
  return { ...entry, readings, ...(electricals.length > 0 && { electrical: electricals }) };
}
