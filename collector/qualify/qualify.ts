// Judges readings that are in the journal: calibration correction, plausibility, the power-on value of digital
// probes, and one probe id from two gateways. It sets qualities; it deletes nothing that may be true.
// A pure reducer behind the journal, so that a replay judges the same.

import { correctedBy } from '../../lab/calibration-entry.ts';
import type { Entry, ReadingsEntry } from '../../lab/entry.ts';
import type { Lab, Probe } from '../../lab/lab.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import { STATION_KIND_FACTS } from '../../lab/station-kinds.ts';
import { ABSOLUTE_ZERO_CELSIUS, celsius, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type Rejection, rejectionOf, SAMPLE_BYTES } from '../decode/rejection.ts';
import { powerOnDoubt } from './power-on-value.ts';
import {
  gatewayPart,
  gatewayRecord,
  type ProbeRecord,
  probePart,
  probeRecord,
  type QualifyState,
} from './probe-record.ts';

export type { QualifyState };

export interface Qualified {
  readonly changedParts: readonly string[];
  /** The entry to store and to hand to the rules; null when nothing of it is left. */
  readonly entry: Entry | null;
  readonly rejections: readonly Rejection[];
}

/** Writes what it learns into `parts`, the caller's own copy of a state: a batch of entries costs one copy. */
export type Qualify = (parts: Record<string, unknown>, entry: Entry, lab: Lab) => Qualified;

/** A gateway that has delivered nothing of its probe for so long has given it up; common practice. */
const GIVEN_UP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Outside of these no room and no wax can be, so the probe or its wiring is to be doubted; common practice. */
const LEAST_PLAUSIBLE_CELSIUS = -40;
const MOST_PLAUSIBLE_CELSIUS = 500;
/** A furnace that burns wax out of moulds goes on to preheat them, to about 1,000 °C and rarely more; common practice. */
const MOST_PLAUSIBLE_FURNACE_CELSIUS = 1200;

export const qualify: Qualify = (parts, entry, lab) => {
  switch (entry.kind) {
    case 'readings':
      return qualifyReadings(parts, entry, lab);
    case 'rejection':
      return { changedParts: [], entry: null, rejections: [rejectionOf(entry)] };
    case 'gateway': {
      const part = gatewayPart(entry.gateway);
      parts[part] = { online: entry.online, reportedAt: entry.receivedAt };
      return { changedParts: [part], entry, rejections: [] };
    }
    default:
      return { changedParts: [], entry, rejections: [] };
  }
};

function qualifyReadings(parts: Record<string, unknown>, entry: ReadingsEntry, lab: Lab): Qualified {
  const changed = new Set<string>();
  const readings: Reading[] = [];
  const rejections: Rejection[] = [];
  for (const raw of entry.readings) {
    const part = probePart(raw.probe);
    const record = probeRecord(parts, raw.probe);
    const place = placesOf(lab).get(raw.probe) ?? UNCLAIMED;
    if (record !== undefined && belongsToAnother(parts, record, place.probe, entry)) {
      rejections.push(ofAnotherGateway(raw, entry, record.gateway, lab));
      continue;
    }
    const judged = judge(parts, raw, record, place, entry);
    parts[part] = judged.record;
    changed.add(part);
    readings.push(judged.reading);
  }
  return {
    changedParts: [...changed],
    entry: readings.length > 0 ? { ...entry, readings } : null,
    rejections,
  };
}

/** The gateway that the lab set decides; else the one that was first, until it goes offline or delivers no more. */
function belongsToAnother(
  state: QualifyState,
  record: ProbeRecord,
  probe: Probe | undefined,
  entry: ReadingsEntry,
): boolean {
  if (record.gateway === entry.gateway || probe?.gateway === entry.gateway) return false;
  const owner = gatewayRecord(state, record.gateway);
  const hasLeft = owner !== undefined && !owner.online && owner.reportedAt >= record.receivedAt;
  return !hasLeft && entry.receivedAt - record.receivedAt < GIVEN_UP_MILLIS;
}

const corrected = (probe: Probe | undefined, raw: number): number =>
  probe?.calibration === undefined
    ? raw + (probe?.correction_celsius ?? 0)
    : correctedBy(probe.calibration, raw);

function judge(
  state: QualifyState,
  reading: Reading,
  record: ProbeRecord | undefined,
  { probe, mostPlausibleCelsius }: ProbePlace,
  entry: ReadingsEntry,
): { readonly reading: Reading; readonly record: ProbeRecord } {
  const raw: number = reading.celsius;
  const value = celsius(Math.max(corrected(probe, raw), ABSOLUTE_ZERO_CELSIUS));
  const isLate = record !== undefined && reading.at <= record.at;
  const startedAt = gatewayRecord(state, entry.gateway)?.reportedAt;
  const doubt =
    isLate || probe?.powersOnAt85 === false
      ? null
      : powerOnDoubt(raw, reading.at, {
          lastGood: record?.lastGood ?? null,
          wasReset: record === undefined || (startedAt !== undefined && startedAt > record.receivedAt),
          doubt: record?.doubt ?? null,
        });
  const isPlausible = value >= LEAST_PLAUSIBLE_CELSIUS && value <= mostPlausibleCelsius;
  const quality: Quality = doubt === null && isPlausible ? reading.quality : 'suspect';
  const judged: Reading = { ...reading, celsius: value, quality };
  const { receivedAt } = entry;
  if (isLate) return { reading: judged, record: { ...record, gateway: entry.gateway, receivedAt } };
  return {
    reading: judged,
    record: {
      gateway: entry.gateway,
      firstSeen: record?.firstSeen ?? receivedAt,
      receivedAt,
      at: reading.at,
      celsius: value,
      quality,
      lastGood: quality === 'suspect' ? (record?.lastGood ?? null) : { at: reading.at, raw },
      doubt,
    },
  };
}

function ofAnotherGateway(reading: Reading, entry: ReadingsEntry, owner: string, lab: Lab): Rejection {
  const sample = new TextEncoder().encode(JSON.stringify(reading)).slice(0, SAMPLE_BYTES);
  return {
    topic: `wax/${lab.site.id}/${entry.gateway}/${reading.probe}`,
    code: 'probe-of-another-gateway',
    values: { probe: reading.probe, owner, gateway: entry.gateway },
    at: entry.receivedAt,
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
