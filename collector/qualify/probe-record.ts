// What qualification remembers of a probe and of a gateway, as plain JSON, and the views that screens need of it.

import type { Quality } from '../../lab/reading.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { type GatewayClock, steadyLagMillis } from './gateway-clock.ts';
import { missingCount, type SequenceRecord } from './sequence.ts';
import type { PowerOnDoubt } from './power-on-value.ts';

export interface ProbeRecord {
  readonly gateway: string;
  readonly firstSeen: EpochMillis;
  /** When its gateway last delivered a reading of it, by the collector's clock. */
  readonly receivedAt: EpochMillis;
  /** Newest reading, corrected. */
  readonly at: EpochMillis;
  readonly celsius: number;
  readonly quality: Quality;
  /** Newest reading that was believed, before correction. */
  readonly lastGood: { readonly at: EpochMillis; readonly raw: number } | null;
  readonly doubt: PowerOnDoubt | null;
  /** Latest instant of all of its readings, where `at` was of a clock that ran ahead; absent: `at`. */
  readonly newestAt?: EpochMillis;
}

export interface GatewayRecord {
  /** As it last reported, or as it shows by delivering; null while it has done neither. */
  readonly online: boolean | null;
  /** When it last reported that, by the collector's clock; null while it never did. */
  readonly reportedAt: EpochMillis | null;
  /** Null or absent while it has delivered nothing with times of its own. */
  readonly clock?: GatewayClock | null;
}

/** Plain JSON in parts, `probe/{id}` and `gateway/{id}`; parts are replaced, never mutated. */
export type QualifyState = Readonly<Record<string, unknown>>;

const PROBE = 'probe/';
const NAMES_REMEMBERED = 20_000;
/** A name that is put together for each reading costs more to find than the reading costs to judge. */
const namedUnder = (prefix: string): ((id: string) => string) => {
  const names = new Map<string, string>();
  return (id) => {
    const remembered = names.get(id);
    if (remembered !== undefined) return remembered;
    if (names.size >= NAMES_REMEMBERED) names.clear();
    const name = prefix + id;
    names.set(id, name);
    return name;
  };
};
export const probePart = namedUnder(PROBE);
export const gatewayPart = namedUnder('gateway/');

/** The newest value of a bare sensor, as it came. */
export interface ElectricalRecord {
  readonly gateway: string;
  readonly at: EpochMillis;
  readonly unit: 'Ohm' | 'mV';
  readonly value: number;
}
const ELECTRICAL = 'electrical/';
export const electricalPart = (id: string): string => ELECTRICAL + id;

export const sequencePart = (gateway: string): string => `sequence/${gateway}`;

// The parts are written by `qualify` alone, so their shape is known from their name.
export const probeRecord = (state: QualifyState, id: string): ProbeRecord | undefined =>
  state[probePart(id)] as ProbeRecord | undefined;
export const sequenceRecord = (state: QualifyState, gateway: string): SequenceRecord | undefined =>
  state[sequencePart(gateway)] as SequenceRecord | undefined;
export const gatewayRecord = (state: QualifyState, id: string): GatewayRecord | undefined =>
  state[gatewayPart(id)] as GatewayRecord | undefined;

/** Keys that earlier versions stored, with the names that they have now. */
const RENAMED: Readonly<Record<string, string>> = { heardAt: 'receivedAt', saidAt: 'reportedAt' };

/**
 * The state as it was stored, whichever version stored it.
 * @example restoreQualifyState({ 'gateway/g': { online: true, saidAt: 5 } }) // { 'gateway/g': { online: true, reportedAt: 5 } }
 */
export const restoreQualifyState = (stored: QualifyState): QualifyState =>
  Object.fromEntries(
    Object.entries(stored).map(([part, record]) => [
      part,
      Object.fromEntries(Object.entries(record ?? {}).map(([key, value]) => [RENAMED[key] ?? key, value])),
    ]),
  );

/** A probe that ever delivered a reading, claimed or not, with its newest value. */
export interface SeenProbe {
  readonly id: string;
  readonly gateway: string;
  readonly firstSeen: EpochMillis;
  readonly lastReadingAt: EpochMillis;
  readonly celsius: number;
  readonly quality: Quality;
}

/** Of every probe that ever delivered a reading. */
export const probeIds = (state: QualifyState): readonly string[] =>
  Object.keys(state).flatMap((part) => (part.startsWith(PROBE) ? [part.slice(PROBE.length)] : []));

export const seenProbe = (state: QualifyState, id: string): SeenProbe | undefined => {
  const record = probeRecord(state, id);
  return (
    record && {
      id,
      gateway: record.gateway,
      firstSeen: record.firstSeen,
      lastReadingAt: record.at,
      celsius: record.celsius,
      quality: record.quality,
    }
  );
};

export const seenProbes = (state: QualifyState): readonly SeenProbe[] =>
  probeIds(state).flatMap((id) => seenProbe(state, id) ?? []);

/** Bare sensors that ever sent a value, whether or not it could be converted. */
export const seenElectrical = (state: QualifyState): ReadonlyMap<string, ElectricalRecord> =>
  new Map(
    Object.keys(state).flatMap((part): [string, ElectricalRecord][] => {
      const id = part.slice(ELECTRICAL.length);
      const record = part.startsWith(ELECTRICAL) ? (state[part] as ElectricalRecord) : undefined;
      return record === undefined ? [] : [[id, record]];
    }),
  );

export const electricalRecord = (state: QualifyState, id: string): ElectricalRecord | undefined =>
  state[electricalPart(id)] as ElectricalRecord | undefined;

/** null while it has reported neither. */
export const gatewayOnline = (state: QualifyState, gateway: string): boolean | null =>
  gatewayRecord(state, gateway)?.online ?? null;

/** A gateway that ever sent anything. */
export interface SeenGateway {
  readonly gateway: string;
  readonly online: boolean | null;
  readonly reportedAt: EpochMillis | null;
  /** Of a gateway that numbers its sweeps: the newest number, and how many before it have not arrived. */
  readonly sweeps: { readonly newest: number; readonly missing: number } | null;
  /** How far its clock is behind, negative when ahead; null while that is not known. */
  readonly clockLagMillis: number | null;
}

export const seenGateways = (state: QualifyState): readonly SeenGateway[] => {
  const names = Object.keys(state).flatMap((part) => {
    const [kind, ...rest] = part.split('/');
    return kind === 'gateway' || kind === 'sequence' ? [rest.join('/')] : [];
  });
  return [...new Set(names)].sort().map((gateway) => {
    const record = gatewayRecord(state, gateway);
    const sequence = sequenceRecord(state, gateway);
    const clock = record?.clock ?? null;
    return {
      gateway,
      online: record?.online ?? null,
      reportedAt: record?.reportedAt ?? null,
      sweeps: sequence === undefined ? null : { newest: sequence.newest, missing: missingCount(sequence) },
      clockLagMillis: clock === null ? null : steadyLagMillis(clock),
    };
  });
};
