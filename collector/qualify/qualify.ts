// Judges readings that are in the journal: calibration correction, plausibility, the power-on value of digital
// probes, and one probe id from two gateways. It sets qualities; it deletes nothing that may be true.
// A pure reducer behind the journal, so that a replay judges the same.

import type { Entry, ReadingsEntry } from '../../lab/entry.ts';
import type { Lab, Probe } from '../../lab/lab.ts';
import { probeCorrected } from '../../lab/probes/probe-correction.ts';
import type { ElectricalReading, Reading } from '../../lab/reading.ts';
import { ABSOLUTE_ZERO_CELSIUS, type Celsius, celsius, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type Rejection, rejectionOf } from '../decode/rejection.ts';
import { takeStatuses } from './device-status.ts';
import { convertElectrical } from './electrical.ts';
import { type GatewayClock, isUnsteady } from './gateway-clock.ts';
import { judgeReading, type RawReading } from './judge-reading.ts';
import { placeOf } from './probe-place.ts';
import {
  electricalRecord,
  gatewayPart,
  type GatewayRecord,
  gatewayRecord,
  type ProbeRecord,
  probePart,
  probeRecord,
  type QualifyPart,
  type QualifyParts,
  type QualifyState,
  sequencePart,
  sequenceRecord,
} from './probe-record.ts';
import {
  ofAnotherGateway,
  rejectionOfReading,
  unknownGateway,
  withoutPlace,
  withoutProbe,
} from './reading-rejection.ts';
import { withArrived } from './sequence.ts';
import { type StoredCelsius, takeTimes, type Timed } from './times.ts';
import { forgetProbes, mayNoteGateway, takePlace, tidyUnclaimed } from './unclaimed-limit.ts';

export interface Qualified {
  /** Of a message with several readings of a probe its part is there several times. */
  readonly changedParts: readonly QualifyPart[];
  /** The entry to store and to hand to the rules; null when nothing of it is left. */
  readonly entry: Entry | null;
  readonly rejections: readonly Rejection[];
}

/**
 * Writes what it learns into `parts`, the caller's own copy of a state: a batch of entries costs one copy. `stored` looks up
 * what is kept already, the readings of the entries before included.
 */
export type Qualify = (parts: QualifyParts, entry: Entry, lab: Lab, stored: StoredCelsius) => Qualified;

/**
 * A gateway that has delivered nothing of its probe for so long has given it up: sooner than the probe counts as silent, as
 * heat that another one delivers must not wait. Common practice.
 */
const GIVEN_UP_MILLIS = 3 * MILLIS_PER_MINUTE;
export const qualify: Qualify = (parts, entry, lab, stored) => {
  switch (entry.kind) {
    case 'readings':
      return qualifyReadings(parts, entry, lab, stored);
    case 'rejection':
      return { changedParts: [], entry: null, rejections: [rejectionOf(entry)] };
    case 'tick':
      return { changedParts: tidyUnclaimed(parts, lab, entry.receivedAt), entry, rejections: [] };
    case 'act': {
      const { act } = entry;
      const changedParts = 'probes' in act ? forgetProbes(parts, act.probes) : [];
      return { changedParts, entry, rejections: [] };
    }
    case 'gateway': {
      if (!mayNoteGateway(parts, entry.gateway))
        return { ...NOTHING, rejections: [unknownGateway(entry, lab)] };
      const part = gatewayPart(entry.gateway);
      const record: GatewayRecord = {
        ...gatewayRecord(parts, entry.gateway),
        online: entry.online,
        reportedAt: entry.receivedAt,
      };
      parts[part] = record;
      return { changedParts: [part], entry, rejections: [] };
    }
    case 'sequence': {
      if (!mayNoteGateway(parts, entry.gateway)) return NOTHING;
      const part = sequencePart(entry.gateway);
      parts[part] = withArrived(sequenceRecord(parts, entry.gateway), entry.sequences, entry.buffer);
      return { changedParts: [part], entry: null, rejections: [] };
    }
    case 'device-status': {
      const { changedParts, foreign } = takeStatuses(parts, entry, lab);
      return {
        changedParts,
        entry: null,
        rejections: foreign.map((status) => withoutProbe(status, entry, lab)),
      };
    }
    default:
      return { changedParts: [], entry, rejections: [] };
  }
};

const NOTHING: Qualified = { changedParts: [], entry: null, rejections: [] };

function qualifyReadings(
  parts: QualifyParts,
  entry: ReadingsEntry,
  lab: Lab,
  stored: StoredCelsius,
): Qualified {
  const taken: Taken = { rejections: [], own: [], changed: [] };
  takeOwn(parts, entry, entry.readings, lab, taken);
  if (entry.electrical !== undefined) takeElectrical(parts, entry, entry.electrical, lab, taken);
  const { rejections, own, changed } = taken;
  if (own.length === 0) return { ...NOTHING, changedParts: changed, rejections };
  const gateway = gatewayRecord(parts, entry.gateway);
  const times = takeTimes(entry, own, gateway?.clock ?? null, keptBy(parts, stored));
  if (times === null) return { ...NOTHING, changedParts: changed, rejections };
  const readings: Reading[] = [];
  for (const reading of times.fresh) {
    const part = probePart(reading.probe);
    const { record, quality } = judgeReading(parts, reading, placeOf(lab, reading.probe), entry);
    parts[part] = record;
    changed.push(part);
    readings.push({ probe: reading.probe, at: reading.at, celsius: reading.celsius, quality });
  }
  for (const { reading, inStore } of times.contradicting)
    rejections.push(
      rejectionOfReading(reading, entry, lab, 'contradicts-stored', {
        at: new Date(reading.at).toISOString(),
        celsius: reading.celsius,
        kept_celsius: inStore,
      }),
    );
  const part = gatewayPart(entry.gateway);
  parts[part] = advanceGateway(gateway, times.clock, times.timing === 'live' && readings.length > 0);
  changed.push(part);
  return {
    changedParts: changed,
    entry: readings.length > 0 ? qualifyEntry(entry, readings, times) : null,
    rejections,
  };
}

/** What a message came to so far. */
interface Taken {
  readonly rejections: Rejection[];
  /** Of probes that the gateway may send for, corrected. */
  readonly own: RawReading[];
  readonly changed: QualifyPart[];
}

function takeOwn(
  parts: QualifyParts,
  entry: ReadingsEntry,
  raws: readonly Reading[],
  lab: Lab,
  { rejections, own }: Taken,
): void {
  for (const raw of raws) {
    const record = probeRecord(parts, raw.probe);
    const { probe } = placeOf(lab, raw.probe);
    const limit = record === undefined && probe === undefined ? takePlace(parts, lab, entry.gateway) : null;
    if (record !== undefined && belongsToAnother(parts, record, probe, entry))
      rejections.push(ofAnotherGateway(raw, entry, record.gateway, lab));
    else if (limit !== null) rejections.push(withoutPlace(raw, entry, limit, lab));
    else {
      const { probe: id, at, quality, celsius: uncorrected } = raw;
      own.push({ probe: id, at, celsius: correctReading(probe, uncorrected), quality, raw: uncorrected });
    }
  }
}

function takeElectrical(
  parts: QualifyParts,
  entry: ReadingsEntry,
  readings: readonly ElectricalReading[],
  lab: Lab,
  taken: Taken,
): void {
  const { rejections, own, changed } = taken;
  const electrical = readings.filter((reading) => {
    const isNew =
      placeOf(lab, reading.probe).probe === undefined && electricalRecord(parts, reading.probe) === undefined;
    const limit = isNew ? takePlace(parts, lab, entry.gateway) : null;
    if (limit !== null) rejections.push(withoutPlace(reading, entry, limit, lab));
    return limit === null;
  });
  const converted = convertElectrical(parts, { ...entry, electrical }, own, (id) => placeOf(lab, id).probe);
  for (const part of converted.changedParts) changed.push(part);
  for (const { reading, problem } of converted.refused)
    rejections.push(rejectionOfReading(reading, entry, lab, problem.code, problem.values ?? {}));
  takeOwn(parts, entry, converted.readings, lab, taken);
}

/** Field by field, as nearly every message is: a copy of the whole entry costs several times as much. */
function qualifyEntry(
  entry: ReadingsEntry,
  readings: readonly Reading[],
  { timing, clockLagMillis, clock }: Pick<Timed<Reading>, 'timing' | 'clockLagMillis' | 'clock'>,
): ReadingsEntry {
  const { receivedAt, gateway, isHistorical, stampedBy } = entry;
  if (clock?.jumpedAt !== undefined && isUnsteady(clock)) {
    const { electrical: _, ...rest } = entry;
    return { ...rest, readings, timing, clockLagMillis, isClockUnsteady: true };
  }
  if (isHistorical === undefined && stampedBy === undefined)
    return { kind: 'readings', receivedAt, gateway, readings, timing, clockLagMillis };
  const { electrical: _, ...rest } = entry;
  return { ...rest, readings, timing, clockLagMillis };
}

/** What it delivers now weighs more than an `offline` that it, or the broker for it, sent before. */
const advanceGateway = (
  record: GatewayRecord | undefined,
  clock: GatewayClock | null,
  isLive: boolean,
): GatewayRecord => ({
  online: record?.online === false && isLive ? true : (record?.online ?? null),
  reportedAt: record?.reportedAt ?? null,
  clock,
});

/** Later than everything of its probe is new; the store need not be read. */
const keptBy =
  (state: QualifyState, stored: StoredCelsius): StoredCelsius =>
  (probe, at) => {
    const record = probeRecord(state, probe);
    return record !== undefined && at > Math.max(record.newestAt ?? 0, record.at) ? null : stored(probe, at);
  };

/** The gateway that the lab set counts; else the one that was first, until it goes offline or delivers no more. */
function belongsToAnother(
  state: QualifyState,
  record: ProbeRecord,
  probe: Probe | undefined,
  entry: ReadingsEntry,
): boolean {
  if (record.gateway === entry.gateway || probe?.gateway === entry.gateway) return false;
  const owner = gatewayRecord(state, record.gateway);
  const hasLeft = owner?.online === false && (owner.reportedAt ?? 0) >= record.receivedAt;
  return !hasLeft && entry.receivedAt - record.receivedAt < GIVEN_UP_MILLIS;
}

const correctReading = (probe: Probe | undefined, raw: number): Celsius =>
  celsius(Math.max(ABSOLUTE_ZERO_CELSIUS, probe === undefined ? raw : probeCorrected(probe, raw)));
