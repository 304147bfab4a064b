// The values of one message as journal entries, whichever format they came in: instants checked against the time of
// arrival, temperatures against what a probe can measure, bare ohms and millivolts kept as they are. A value that is
// refused is refused by itself and the others go on.

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
  /** The sender doubts it. */
  readonly isDoubted?: boolean;
  /** The sender says that it is of the past. */
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
function refusedInstant(stamp: number, given: GivenValue, message: Message): Problem | null {
  const { isStamped, isHistorical = false } = given;
  const isRetained = message.delivery === 'retained';
  if (!isStamped && isRetained) return AGELESS;
  const impossible = noInstant(stamp, message.receivedAt);
  if (impossible !== null && (isHistorical || !isStamped || !canBeHeld(stamp))) return impossible;
  // What the broker keeps may be of any age, and such a clock does not tell it.
  return isRetained && clockProblem(stamp, message.receivedAt) !== null ? AGELESS : null;
}

function take(given: GivenValue, message: Message): Result<Taken> {
  const { quantity, isStamped, isDoubted = false, isHistorical = false } = given;
  const probe = probeId(given.probe);
  if (!probe.ok) return probe;
  const value = quantity.kind === 'celsius' ? temperature(quantity.celsius) : electrical(quantity);
  if (!value.ok) return value;
  const stamp = Math.round(given.millis);
  const refused = refusedInstant(stamp, given, message);
  if (refused !== null) return { ok: false, problem: refused };
  const isCertain = isStamped || message.delivery === 'live';
  const quality: Quality = isDoubted ? 'suspect' : isCertain ? 'good' : 'uncertain-time';
  const common = { probe: probe.value, at: epochMillis(stamp), quality };
  return success({
    timing: isHistorical ? 'historical' : isStamped ? 'stamped' : 'arrival',
    reading:
      typeof value.value === 'number' ? { ...common, celsius: value.value } : { ...common, ...value.value },
  });
}

/** What a gateway says of a message as a whole. */
export interface MessageFacts {
  readonly isHistorical?: boolean;
  readonly isClockSet?: boolean;
  readonly sequences?: readonly number[];
  readonly statuses?: readonly GivenStatus[];
}

const ofWhole = (given: GivenValue, { isHistorical = false }: MessageFacts): GivenValue =>
  isHistorical ? { ...given, isHistorical } : given;

/** Problems stand in `given` for values that could not be read. */
export function collectReadings(
  message: Message,
  gateway: string,
  given: readonly Result<GivenValue>[],
  facts: MessageFacts = {},
): Decoded {
  const { receivedAt } = message;
  const problems: Problem[] = [];
  const taken: Taken[] = [];
  for (const value of given) {
    const result = value.ok ? take(ofWhole(value.value, facts), message) : value;
    if (result.ok) taken.push(result.value);
    else problems.push(result.problem);
  }
  const at = (timing: Taken['timing']) => taken.filter((value) => value.timing === timing);
  const stamped = at('stamped');
  // Beside instants of this lab one that is none is a mistake; alone they show a wrong clock.
  const possible = stamped.filter(({ reading }) => noInstant(reading.at, receivedAt) === null);
  const believed = possible.length > 0 ? possible : stamped;
  if (believed.length < stamped.length)
    problems.push(...stamped.flatMap(({ reading }) => noInstant(reading.at, receivedAt) ?? []));
  const newest = believed.reduce(
    (latest, { reading }) => Math.max(latest, reading.at),
    Number.NEGATIVE_INFINITY,
  );
  const wrong = believed.length > 0 ? clockProblem(newest, receivedAt) : null;
  if (wrong !== null) problems.push(wrong);
  const { isClockSet = true, sequences = [] } = facts;
  const reported = (facts.statuses ?? []).map((given) => deviceStatus(given, receivedAt));
  const statuses = reported.flatMap((status) => (status.ok ? [status.value] : []));
  problems.push(...reported.flatMap((status) => (status.ok ? [] : [status.problem])));
  const entry = { kind: 'readings' as const, receivedAt, gateway };
  return {
    entries: [
      ...entryOf(entry, isClockSet ? believed : believed.map(uncertain)),
      ...entryOf({ ...entry, stampedBy: 'arrival' }, at('arrival')),
      ...entryOf(
        { ...entry, isHistorical: true },
        isClockSet ? at('historical') : at('historical').map(uncertain),
      ),
      ...(sequences.length > 0
        ? [{ kind: 'sequence' as const, receivedAt, gateway, sequences: [...sequences] }]
        : []),
      // Behind the readings, so that a probe that is new by them can have a status.
      ...(statuses.length > 0 ? [{ kind: 'device-status' as const, receivedAt, gateway, statuses }] : []),
    ],
    rejections: problems.map((problem) => reject(message, problem)),
  };
}

const uncertain = ({ reading, timing }: Taken): Taken => ({
  timing,
  reading: reading.quality === 'good' ? { ...reading, quality: 'uncertain-time' } : reading,
});

function entryOf(entry: Omit<ReadingsEntry, 'readings'>, taken: readonly Taken[]): readonly ReadingsEntry[] {
  if (taken.length === 0) return [];
  const readings: Reading[] = [];
  const electricals: ElectricalReading[] = [];
  for (const { reading } of taken)
    if ('celsius' in reading) readings.push(reading);
    else electricals.push(reading);
  return [{ ...entry, readings, ...(electricals.length > 0 && { electrical: electricals }) }];
}
