// How far one reading may be trusted, and what is remembered of its probe after it.

import type { ReadingsEntry } from '../../lab/entry.ts';
import type { Quality, Reading } from '../../lab/reading.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { mayBePowerOnValue, type PowerOnDoubt, powerOnDoubt } from './power-on-value.ts';
import type { ProbePlace } from './probe-place.ts';
import { gatewayRecord, type ProbeRecord, probeRecord, type QualifyState } from './probe-record.ts';

/** A reading with its value before correction. */
export interface RawReading extends Reading {
  readonly raw: number;
}

/** Below it no room and no wax can be, so the probe or its wiring is to be doubted; common practice. */
const LEAST_PLAUSIBLE_CELSIUS = -40;
/** A newest instant further ahead of now was of a clock that was wrong, so what comes now is not late. */
const AHEAD_MILLIS = MILLIS_PER_MINUTE;

/** Its quality, and the record of its probe with it. */
export function judgeReading(
  state: QualifyState,
  { raw, probe: id, at, celsius: value, quality: given }: RawReading,
  { probe, mostPlausibleCelsius }: ProbePlace,
  { receivedAt, gateway }: ReadingsEntry,
): { readonly quality: Quality; readonly record: ProbeRecord } {
  const record = probeRecord(state, id);
  const isLate = record !== undefined && at <= record.at && record.at <= receivedAt + AHEAD_MILLIS;
  const isFreeOfDoubt = isLate || probe?.powersOnAt85 === false || probe?.sensor !== undefined;
  const doubt = isFreeOfDoubt ? null : doubtOf(state, gateway, raw, at, record);
  const isPlausible = value >= LEAST_PLAUSIBLE_CELSIUS && value <= mostPlausibleCelsius;
  const quality: Quality = doubt === null && isPlausible ? given : 'suspect';
  if (isLate) return { quality, record: { ...record, gateway, receivedAt } };
  const newestAt = Math.max(record?.newestAt ?? 0, record?.at ?? 0);
  const next: ProbeRecord = {
    gateway,
    firstSeen: record?.firstSeen ?? receivedAt,
    receivedAt,
    at,
    celsius: value,
    quality,
    lastGood: quality === 'suspect' ? (record?.lastGood ?? null) : { at, raw },
    doubt,
  };
  return { quality, record: newestAt > at ? { ...next, newestAt: epochMillis(newestAt) } : next };
}

function doubtOf(
  state: QualifyState,
  gateway: string,
  raw: number,
  at: EpochMillis,
  record: ProbeRecord | undefined,
): PowerOnDoubt | null {
  if (!mayBePowerOnValue(raw)) return null;
  const startedAt = gatewayRecord(state, gateway)?.reportedAt ?? null;
  return powerOnDoubt(raw, at, {
    lastGood: record?.lastGood ?? null,
    wasReset: record === undefined || (startedAt !== null && startedAt > record.receivedAt),
    doubt: record?.doubt ?? null,
  });
}
