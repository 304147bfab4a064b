// Battery and signal of probes and gateways as they were last reported. Only a probe that has measured, or that the lab
// has, can have a status, so that made-up names fill no memory; and only its own gateway reports it.

import { type DeviceStatus, LOW_BATTERY_PERCENT } from '../../lab/device-status.ts';
import type { DeviceStatusEntry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../../wax/units.ts';
import {
  electricalRecord,
  gatewayRecord,
  gatewayStatusPart,
  probeRecord,
  type QualifyPart,
  type QualifyParts,
  type QualifyState,
  type StatusRecord,
  statusPart,
} from './probe-record.ts';

/** A status that is older than the newest one counts after this: the clock of the newest one was ahead. */
const OUTDATED_MILLIS = MILLIS_PER_HOUR;

function isOfGateway(parts: QualifyState, entry: DeviceStatusEntry, lab: Lab, probe: string | null): boolean {
  if (probe === null) return gatewayRecord(parts, entry.gateway) !== undefined;
  const claimed = lab.probes.find(({ id }) => id === probe);
  const seen = probeRecord(parts, probe) ?? electricalRecord(parts, probe);
  return claimed?.gateway === entry.gateway || seen?.gateway === entry.gateway;
}

/** Writes them into `parts`; returns the parts that changed and those that belong to no probe of the gateway. */
export function takeStatuses(
  parts: QualifyParts,
  entry: DeviceStatusEntry,
  lab: Lab,
): { readonly changedParts: readonly QualifyPart[]; readonly foreign: readonly DeviceStatus[] } {
  const changed = new Set<QualifyPart>();
  const foreign: DeviceStatus[] = [];
  for (const status of entry.statuses) {
    const { probe, at } = status;
    if (!isOfGateway(parts, entry, lab, probe)) {
      foreign.push(status);
      continue;
    }
    const part = probe === null ? gatewayStatusPart(entry.gateway) : statusPart(probe);
    const before = parts[part];
    const { gateway, receivedAt } = entry;
    if (before !== undefined && at < before.at && receivedAt - before.receivedAt < OUTDATED_MILLIS) continue;
    const record: StatusRecord = {
      gateway,
      receivedAt,
      at,
      battery_percent: status.battery_percent ?? before?.battery_percent ?? null,
      battery_volts: status.battery_volts ?? before?.battery_volts ?? null,
      signal_dbm: status.signal_dbm ?? before?.signal_dbm ?? null,
    };
    parts[part] = record;
    changed.add(part);
  }
  return { changedParts: [...changed], foreign };
}

export interface SeenStatus {
  readonly at: EpochMillis;
  readonly battery_percent: number | null;
  readonly battery_volts: number | null;
  /** As the lab set it; null: volts are not judged. */
  readonly battery_low_volts: number | null;
  readonly isBatteryLow: boolean;
  readonly signal_dbm: number | null;
}

/**
 * Of a probe, else of its gateway; undefined where neither reports any. Cells differ too much for one limit in volts:
 * without one that the lab set for the probe they are not judged.
 */
export function seenStatus(
  state: QualifyState,
  probe: string,
  gateway: string,
  lowVolts: number | null,
): SeenStatus | undefined {
  const own = state[statusPart(probe)] ?? state[gatewayStatusPart(gateway)];
  if (own === undefined) return undefined;
  const { at, battery_percent, battery_volts = null, signal_dbm } = own;
  const isBatteryLow =
    (battery_percent !== null && battery_percent <= LOW_BATTERY_PERCENT) ||
    (battery_volts !== null && lowVolts !== null && battery_volts <= lowVolts);
  return { at, battery_percent, battery_volts, battery_low_volts: lowVolts, isBatteryLow, signal_dbm };
}
