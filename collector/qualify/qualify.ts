// Judges readings that are in the journal: calibration correction, plausibility, the power-on value of digital
// probes, and one probe id from two gateways. It sets qualities; it deletes nothing that may be true.
// A pure reducer behind the journal, so that a replay judges the same.

import { correctedBy } from '../../lab/calibration-entry.ts';
import type { Entry, ReadingsEntry } from '../../lab/entry.ts';
import type { Lab, Probe } from '../../lab/lab.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import { ABSOLUTE_ZERO_CELSIUS, celsius, type EpochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { type Rejection, rejectionOf, SAMPLE_BYTES } from '../decode/rejection.ts';
import { powerOnDoubt } from './power-on-value.ts';
import {
  gatewayPart,
  gatewayTrack,
  type ProbeTrack,
  probePart,
  probeTrack,
  type QualifyState,
} from './probe-track.ts';

export type { QualifyState };

export interface Qualified {
  readonly changedParts: readonly string[];
  /** The entry to store and to hand to the rules; null when nothing of it is left. */
  readonly entry: Entry | null;
  readonly rejections: readonly Rejection[];
}

/** Writes what it learns into `parts`, the caller's own copy of a state: a batch of entries costs one copy. */
export type Qualify = (parts: Record<string, unknown>, entry: Entry, lab: Lab) => Qualified;

/** A gateway that was not heard with its probe for so long has given it up; common practice. */
const GIVEN_UP_MILLIS = 10 * MILLIS_PER_MINUTE;
/** Outside of these no room and no wax can be, so the probe or its wiring is to be doubted; common practice. */
const LEAST_PLAUSIBLE_CELSIUS = -40;
const MOST_PLAUSIBLE_CELSIUS = 500;

export const qualify: Qualify = (parts, entry, lab) => {
  switch (entry.kind) {
    case 'readings':
      return qualifyReadings(parts, entry, lab);
    case 'rejection':
      return { changedParts: [], entry: null, rejections: [rejectionOf(entry)] };
    case 'gateway': {
      const part = gatewayPart(entry.gateway);
      parts[part] = { online: entry.online, saidAt: entry.receivedAt };
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
    const track = probeTrack(parts, raw.probe);
    const probe = probesOf(lab).get(raw.probe);
    if (track !== undefined && belongsToAnother(parts, track, probe, entry)) {
      rejections.push(ofAnotherGateway(raw, entry, track.gateway, lab));
      continue;
    }
    const judged = judge(parts, raw, track, probe, entry);
    parts[part] = judged.track;
    changed.add(part);
    readings.push(judged.reading);
  }
  return {
    changedParts: [...changed],
    entry: readings.length > 0 ? { ...entry, readings } : null,
    rejections,
  };
}

/** The lab's word decides; else the gateway that was first, for as long as it lives. */
function belongsToAnother(
  state: QualifyState,
  track: ProbeTrack,
  probe: Probe | undefined,
  entry: ReadingsEntry,
): boolean {
  if (track.gateway === entry.gateway || probe?.gateway === entry.gateway) return false;
  const said = gatewayTrack(state, track.gateway);
  const hasLeft = said !== undefined && !said.online && said.saidAt >= track.heardAt;
  return !hasLeft && entry.receivedAt - track.heardAt < GIVEN_UP_MILLIS;
}

const corrections = (probe: Probe | undefined, raw: number): number =>
  probe?.calibration === undefined
    ? raw + (probe?.correction_celsius ?? 0)
    : correctedBy(probe.calibration, raw);

function judge(
  state: QualifyState,
  reading: Reading,
  track: ProbeTrack | undefined,
  probe: Probe | undefined,
  entry: ReadingsEntry,
): { readonly reading: Reading; readonly track: ProbeTrack } {
  const raw: number = reading.celsius;
  const corrected = celsius(Math.max(corrections(probe, raw), ABSOLUTE_ZERO_CELSIUS));
  const isLate = track !== undefined && reading.at <= track.at;
  const startedAt = gatewayTrack(state, entry.gateway)?.saidAt;
  const doubt =
    isLate || probe?.powersOnAt85 === false
      ? null
      : powerOnDoubt(raw, reading.at, {
          lastGood: track?.lastGood ?? null,
          wasReset: track === undefined || (startedAt !== undefined && startedAt > track.heardAt),
          doubt: track?.doubt ?? null,
        });
  const isPlausible = corrected >= LEAST_PLAUSIBLE_CELSIUS && corrected <= MOST_PLAUSIBLE_CELSIUS;
  const quality: Quality = doubt === null && isPlausible ? reading.quality : 'suspect';
  const judged: Reading = { ...reading, celsius: corrected, quality };
  const heardAt: EpochMillis = entry.receivedAt;
  if (isLate) return { reading: judged, track: { ...track, gateway: entry.gateway, heardAt } };
  return {
    reading: judged,
    track: {
      gateway: entry.gateway,
      firstSeen: track?.firstSeen ?? entry.receivedAt,
      heardAt,
      at: reading.at,
      celsius: corrected,
      quality,
      lastGood: quality === 'suspect' ? (track?.lastGood ?? null) : { at: reading.at, raw },
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

/** A lab is one immutable value, so its index is made once. */
const indexes = new WeakMap<Lab, ReadonlyMap<string, Probe>>();
function probesOf(lab: Lab): ReadonlyMap<string, Probe> {
  const known = indexes.get(lab);
  if (known !== undefined) return known;
  const index = new Map(lab.probes.map((probe) => [probe.id, probe]));
  indexes.set(lab, index);
  return index;
}
