// Judges readings that are in the journal: calibration correction, plausibility, the power-on value of digital
// probes, and one probe id from two gateways. It sets qualities; it deletes nothing that may be true.
// A pure reducer behind the journal, so that a replay judges the same.

import type { Entry, GatewayEntry, ReadingsEntry } from '../../lab/entry.ts';
import type { Lab, Probe } from '../../lab/lab.ts';
import { probeCorrected } from '../../lab/probe-correction.ts';
import type { ElectricalReading, Quality, Reading } from '../../lab/reading.ts';
import { STATION_KIND_FACTS } from '../../lab/station-kinds.ts';
import type { ProblemValues } from '../../wax/result.ts';
import {
  ABSOLUTE_ZERO_CELSIUS,
  type Celsius,
  celsius,
  epochMillis,
  MILLIS_PER_MINUTE,
} from '../../wax/units.ts';
import { type Rejection, rejectionOf, SAMPLE_BYTES } from '../decode/rejection.ts';
import { convertElectrical } from './electrical.ts';
import type { GatewayClock } from './gateway-clock.ts';
import { powerOnDoubt } from './power-on-value.ts';
import {
  electricalRecord,
  gatewayPart,
  type GatewayRecord,
  gatewayRecord,
  type ProbeRecord,
  probePart,
  probeRecord,
  type QualifyState,
  sequencePart,
  sequenceRecord,
} from './probe-record.ts';
import { forgetProbes, MOST_GATEWAYS, mayNoteGateway, takePlace, tidyUnclaimed } from './unclaimed-limit.ts';
import { withArrived } from './sequence.ts';
import { type StoredCelsius, takeTimes } from './times.ts';

export type { QualifyState };

export interface Qualified {
  readonly changedParts: readonly string[];
  /** The entry to store and to hand to the rules; null when nothing of it is left. */
  readonly entry: Entry | null;
  readonly rejections: readonly Rejection[];
}

/**
 * Writes what it learns into `parts`, the caller's own copy of a state: a batch of entries costs one copy. `stored` says
 * what is kept already, the readings of the entries before included.
 */
export type Qualify = (
  parts: Record<string, unknown>,
  entry: Entry,
  lab: Lab,
  stored: StoredCelsius,
) => Qualified;

/** A gateway that has delivered nothing of its probe for so long has given it up; common practice. */
const GIVEN_UP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Outside of these no room and no wax can be, so the probe or its wiring is to be doubted; common practice. */
const LEAST_PLAUSIBLE_CELSIUS = -40;
const MOST_PLAUSIBLE_CELSIUS = 500;
/** A furnace that burns wax out of moulds goes on to preheat them, to about 1,000 °C and rarely more; common practice. */
const MOST_PLAUSIBLE_FURNACE_CELSIUS = 1200;

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
      parts[part] = withArrived(sequenceRecord(parts, entry.gateway), entry.sequences);
      return { changedParts: [part], entry: null, rejections: [] };
    }
    default:
      return { changedParts: [], entry, rejections: [] };
  }
};

const unknownGateway = ({ gateway, online, receivedAt }: GatewayEntry, lab: Lab): Rejection => {
  const sample = new TextEncoder().encode(online ? 'online' : 'offline');
  return {
    topic: `wax/${lab.site.id}/${gateway}/state`,
    code: 'too-many-gateways',
    values: { limit: MOST_GATEWAYS },
    at: receivedAt,
    sample,
    bytes: sample.length,
  };
};

/** Under the gateway alone: names that are made up would fill the quarantine too. */
const withoutPlace = (
  reading: Reading | ElectricalReading,
  entry: ReadingsEntry,
  limit: number,
  lab: Lab,
): Rejection => ({
  ...rejectionOfReading(reading, entry, lab, 'too-many-unclaimed', { limit }),
  topic: `wax/${lab.site.id}/${entry.gateway}`,
});

const NOTHING: Qualified = { changedParts: [], entry: null, rejections: [] };

function qualifyReadings(
  parts: Record<string, unknown>,
  entry: ReadingsEntry,
  lab: Lab,
  stored: StoredCelsius,
): Qualified {
  const rejections: Rejection[] = [];
  const own: RawReading[] = [];
  const changed = new Set<string>();
  const takeOwn = (raws: readonly Reading[]): void => {
    for (const raw of raws) {
      const record = probeRecord(parts, raw.probe);
      const { probe } = placeOf(lab, raw.probe);
      const limit = record === undefined && probe === undefined ? takePlace(parts, lab, entry.gateway) : null;
      if (record !== undefined && belongsToAnother(parts, record, probe, entry))
        rejections.push(ofAnotherGateway(raw, entry, record.gateway, lab));
      else if (limit !== null) rejections.push(withoutPlace(raw, entry, limit, lab));
      else own.push({ ...raw, raw: raw.celsius, celsius: corrected(probe, raw.celsius) });
    }
  };
  takeOwn(entry.readings);
  if (entry.electrical !== undefined) {
    const taken = entry.electrical.filter((reading) => {
      const isNew =
        placeOf(lab, reading.probe).probe === undefined &&
        electricalRecord(parts, reading.probe) === undefined;
      const limit = isNew ? takePlace(parts, lab, entry.gateway) : null;
      if (limit !== null) rejections.push(withoutPlace(reading, entry, limit, lab));
      return limit === null;
    });
    const converted = convertElectrical(
      parts,
      { ...entry, electrical: taken },
      own,
      (id) => placeOf(lab, id).probe,
    );
    for (const part of converted.changedParts) changed.add(part);
    for (const { reading, problem } of converted.refused)
      rejections.push(rejectionOfReading(reading, entry, lab, problem.code, problem.values ?? {}));
    takeOwn(converted.readings);
  }
  if (own.length === 0) return { ...NOTHING, changedParts: [...changed], rejections };
  const gateway = gatewayRecord(parts, entry.gateway);
  const times = takeTimes(entry, own, gateway?.clock ?? null, keptBy(parts, stored));
  if (times === null) return { ...NOTHING, changedParts: [...changed], rejections };
  const readings = times.fresh.map((reading) => {
    const part = probePart(reading.probe);
    const judged = judge(
      parts,
      reading,
      probeRecord(parts, reading.probe),
      placeOf(lab, reading.probe),
      entry,
    );
    parts[part] = judged.record;
    changed.add(part);
    return judged.reading;
  });
  for (const { reading, kept } of times.contradicting)
    rejections.push(
      rejectionOfReading(reading, entry, lab, 'contradicts-stored', {
        at: new Date(reading.at).toISOString(),
        celsius: reading.celsius,
        kept_celsius: kept,
      }),
    );
  const { timing, clockLagMillis, clock } = times;
  const part = gatewayPart(entry.gateway);
  const { electrical: _, ...rest } = entry;
  parts[part] = seenGateway(gateway, clock, timing === 'live' && readings.length > 0);
  changed.add(part);
  return {
    changedParts: [...changed],
    entry: readings.length > 0 ? { ...rest, readings, timing, clockLagMillis } : null,
    rejections,
  };
}

/** What it delivers now weighs more than an `offline` that it, or the broker for it, said before. */
const seenGateway = (
  record: GatewayRecord | undefined,
  clock: GatewayClock | null,
  isLive: boolean,
): GatewayRecord => ({
  online: record?.online === false && isLive ? true : (record?.online ?? null),
  reportedAt: record?.reportedAt ?? null,
  clock,
});

/** Later than everything of its probe is new; the store need not be asked. */
const keptBy =
  (state: QualifyState, stored: StoredCelsius): StoredCelsius =>
  (probe, at) => {
    const record = probeRecord(state, probe);
    return record !== undefined && at > Math.max(record.newestAt ?? 0, record.at) ? null : stored(probe, at);
  };

/** The gateway that the lab set decides; else the one that was first, until it goes offline or delivers no more. */
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

const corrected = (probe: Probe | undefined, raw: number): Celsius =>
  celsius(Math.max(ABSOLUTE_ZERO_CELSIUS, probe === undefined ? raw : probeCorrected(probe, raw)));

/** A reading with its value before correction. */
interface RawReading extends Reading {
  readonly raw: number;
}

/** A newest instant further ahead of now was of a clock that was wrong, so what comes now is not late. */
const AHEAD_MILLIS = MILLIS_PER_MINUTE;

function judge(
  state: QualifyState,
  { raw, ...reading }: RawReading,
  record: ProbeRecord | undefined,
  { probe, mostPlausibleCelsius }: ProbePlace,
  entry: ReadingsEntry,
): { readonly reading: Reading; readonly record: ProbeRecord } {
  const { receivedAt, gateway } = entry;
  const { at, celsius: value } = reading;
  const isLate = record !== undefined && at <= record.at && record.at <= receivedAt + AHEAD_MILLIS;
  const startedAt = gatewayRecord(state, gateway)?.reportedAt ?? null;
  const doubt =
    isLate || probe?.powersOnAt85 === false || probe?.sensor !== undefined
      ? null
      : powerOnDoubt(raw, at, {
          lastGood: record?.lastGood ?? null,
          wasReset: record === undefined || (startedAt !== null && startedAt > record.receivedAt),
          doubt: record?.doubt ?? null,
        });
  const isPlausible = value >= LEAST_PLAUSIBLE_CELSIUS && value <= mostPlausibleCelsius;
  const quality: Quality = doubt === null && isPlausible ? reading.quality : 'suspect';
  const judged: Reading = { ...reading, quality };
  if (isLate) return { reading: judged, record: { ...record, gateway, receivedAt } };
  const newestAt = Math.max(record?.newestAt ?? 0, record?.at ?? 0);
  return {
    reading: judged,
    record: {
      gateway,
      firstSeen: record?.firstSeen ?? receivedAt,
      receivedAt,
      at,
      celsius: value,
      quality,
      lastGood: quality === 'suspect' ? (record?.lastGood ?? null) : { at, raw },
      doubt,
      ...(newestAt > at && { newestAt: epochMillis(newestAt) }),
    },
  };
}

const ofAnotherGateway = (reading: Reading, entry: ReadingsEntry, owner: string, lab: Lab): Rejection =>
  rejectionOfReading(reading, entry, lab, 'probe-of-another-gateway', { owner, gateway: entry.gateway });

function rejectionOfReading(
  reading: Reading | ElectricalReading,
  { gateway, receivedAt }: ReadingsEntry,
  lab: Lab,
  code: string,
  values: ProblemValues,
): Rejection {
  const { probe, at, quality } = reading;
  const measured =
    'celsius' in reading ? { celsius: reading.celsius } : { unit: reading.unit, value: reading.value };
  const sample = new TextEncoder()
    .encode(JSON.stringify({ probe, at, ...measured, quality }))
    .slice(0, SAMPLE_BYTES);
  return {
    topic: `wax/${lab.site.id}/${gateway}/${probe}`,
    code,
    values: { probe, ...values },
    at: receivedAt,
    sample,
    bytes: sample.length,
  };
}

/** A probe as the lab describes it, and what its station allows. */
interface ProbePlace {
  readonly probe: Probe | undefined;
  readonly mostPlausibleCelsius: number;
}
const UNCLAIMED: ProbePlace = { probe: undefined, mostPlausibleCelsius: MOST_PLAUSIBLE_CELSIUS };

/** A lab is one immutable value, so its index is made once. */
const indexes = new WeakMap<Lab, ReadonlyMap<string, ProbePlace>>();
const placeOf = (lab: Lab, probe: string): ProbePlace => placesOf(lab).get(probe) ?? UNCLAIMED;
function placesOf(lab: Lab): ReadonlyMap<string, ProbePlace> {
  const indexed = indexes.get(lab);
  if (indexed !== undefined) return indexed;
  const furnaces = new Set(
    lab.stations.filter(({ kind }) => STATION_KIND_FACTS[kind].role === 'burns-out').map(({ id }) => id),
  );
  const index = new Map(
    lab.probes.map((probe): [string, ProbePlace] => {
      const isInFurnace = probe.station !== null && furnaces.has(probe.station);
      const mostPlausibleCelsius = isInFurnace ? MOST_PLAUSIBLE_FURNACE_CELSIUS : MOST_PLAUSIBLE_CELSIUS;
      return [probe.id, { probe, mostPlausibleCelsius }];
    }),
  );
  indexes.set(lab, index);
  return index;
}
