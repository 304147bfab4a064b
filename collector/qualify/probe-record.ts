// What qualification keeps of a probe and of a gateway, as plain JSON, and the views that screens need of it.

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
  /** Newest reading that was accepted, before correction. */
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

/** The newest value of a bare sensor, as it came. */
export interface ElectricalRecord {
  readonly gateway: string;
  readonly at: EpochMillis;
  readonly unit: 'Ohm' | 'mV';
  readonly value: number;
}

/** Battery and signal of a probe or a gateway, as they were last reported. */
export interface StatusRecord {
  readonly gateway: string;
  readonly receivedAt: EpochMillis;
  readonly at: EpochMillis;
  readonly battery_percent: number | null;
  /** Absent in a state of an earlier version. */
  readonly battery_volts?: number | null;
  readonly signal_dbm: number | null;
}

type ProbePart = `probe/${string}`;
type GatewayPart = `gateway/${string}`;
type SequencePart = `sequence/${string}`;
type ElectricalPart = `electrical/${string}`;
type StatusPart = `status/${'probe' | 'gateway'}/${string}`;

/** Plain JSON in parts, each under a name that gives its type; parts are replaced, never mutated. */
export type QualifyParts = {
  [part: ProbePart]: ProbeRecord;
  [part: GatewayPart]: GatewayRecord;
  [part: SequencePart]: SequenceRecord;
  [part: ElectricalPart]: ElectricalRecord;
  [part: StatusPart]: StatusRecord;
  /** When probes that were silent for too long were last forgotten. */
  tidied?: { readonly at: EpochMillis };
};
export type QualifyPart = keyof QualifyParts;
export type QualifyState = Readonly<QualifyParts>;

const NAMES_REMEMBERED = 20_000;
/** A name that is put together for each reading costs more to find than the reading costs to judge. */
const prefixNames = <Prefix extends string>(prefix: Prefix) => {
  const names = new Map<string, `${Prefix}${string}`>();
  return (id: string): `${Prefix}${string}` => {
    const remembered = names.get(id);
    if (remembered !== undefined) return remembered;
    if (names.size >= NAMES_REMEMBERED) names.clear();
    const name = `${prefix}${id}` as const;
    names.set(id, name);
    return name;
  };
};
export const probePart = prefixNames('probe/');
export const gatewayPart = prefixNames('gateway/');
export const electricalPart = (id: string): ElectricalPart => `electrical/${id}`;
export const sequencePart = (gateway: string): SequencePart => `sequence/${gateway}`;
export const statusPart = (probe: string): StatusPart => `status/probe/${probe}`;
export const gatewayStatusPart = (gateway: string): StatusPart => `status/gateway/${gateway}`;

export const probeRecord = (state: QualifyState, id: string): ProbeRecord | undefined => state[probePart(id)];
export const sequenceRecord = (state: QualifyState, gateway: string): SequenceRecord | undefined =>
  state[sequencePart(gateway)];
export const gatewayRecord = (state: QualifyState, id: string): GatewayRecord | undefined =>
  state[gatewayPart(id)];
export const electricalRecord = (state: QualifyState, id: string): ElectricalRecord | undefined =>
  state[electricalPart(id)];

/** Ids of the parts whose names begin so. */
const idsUnder = (prefix: string, state: QualifyState): readonly string[] =>
  Object.keys(state).flatMap((part) => (part.startsWith(prefix) ? [part.slice(prefix.length)] : []));

/** Keys that earlier versions stored, with the names that they have now. */
const RENAMED: Readonly<Record<string, string>> = { heardAt: 'receivedAt', saidAt: 'reportedAt' };

/**
 * The state as it was stored, whichever version stored it.
 * @example restoreQualifyState({ 'gateway/g': { online: true, saidAt: 5 } }) // { 'gateway/g': { online: true, reportedAt: 5 } }
 */
export function restoreQualifyState(stored: Parts): QualifyState {
  const parts = Object.fromEntries(
    Object.entries(stored)
      .filter(([name]) => isPartName(name))
      .map(([name, record]) => [
        name,
        Object.fromEntries(Object.entries(record ?? {}).map(([key, value]) => [RENAMED[key] ?? key, value])),
      ]),
  );
  return isQualifyState(parts) ? parts : {};
}

type Parts = Readonly<Record<string, unknown>>;
const isPartName = (name: string): boolean =>
  /^(tidied$|(probe|gateway|sequence|electrical|status)\/)/.test(name);
/** Parts are written by `qualify` alone, each under the name that gives its type. */
const isQualifyState = (parts: Parts): parts is QualifyState & Parts => Object.keys(parts).every(isPartName);

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
export const probeIds = (state: QualifyState): readonly string[] => idsUnder('probe/', state);
/** Of every gateway that reported its state or delivered readings. */
export const gatewayIds = (state: QualifyState): readonly string[] => idsUnder('gateway/', state);

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
    idsUnder('electrical/', state).flatMap((id): [string, ElectricalRecord][] => {
      const record = electricalRecord(state, id);
      return record === undefined ? [] : [[id, record]];
    }),
  );

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
  const names = new Set([...gatewayIds(state), ...idsUnder('sequence/', state)]);
  return [...names].sort().map((gateway) => {
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
