// Readings, and states of gateways, that qualification refuses, as they lie in the quarantine.

import type { DeviceStatus } from '../../lab/device-status.ts';
import type { DeviceStatusEntry, GatewayEntry, ReadingsEntry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { ElectricalReading, Reading } from '../../lab/reading.ts';
import type { ProblemValues } from '../../wax/result.ts';
import { type Rejection, SAMPLE_BYTES } from '../decode/rejection.ts';
import { MOST_GATEWAYS } from './unclaimed-limit.ts';

export const unknownGateway = ({ gateway, online, receivedAt }: GatewayEntry, lab: Lab): Rejection => {
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

export const withoutProbe = (
  status: DeviceStatus,
  { gateway, receivedAt }: DeviceStatusEntry,
  lab: Lab,
): Rejection => {
  const sample = new TextEncoder().encode(JSON.stringify(status));
  return {
    topic: `wax/${lab.site.id}/${gateway}`,
    code: 'status-without-probe',
    values: { probe: status.probe ?? gateway },
    at: receivedAt,
    sample,
    bytes: sample.length,
  };
};

/** Under the gateway alone: names that are made up would fill the quarantine too. */
export const withoutPlace = (
  reading: Reading | ElectricalReading,
  entry: ReadingsEntry,
  limit: number,
  lab: Lab,
): Rejection => ({
  ...rejectionOfReading(reading, entry, lab, 'too-many-unclaimed', { limit }),
  topic: `wax/${lab.site.id}/${entry.gateway}`,
});

export const ofAnotherGateway = (
  reading: Reading,
  entry: ReadingsEntry,
  owner: string,
  lab: Lab,
): Rejection =>
  rejectionOfReading(reading, entry, lab, 'probe-of-another-gateway', { owner, gateway: entry.gateway });

export function rejectionOfReading(
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
