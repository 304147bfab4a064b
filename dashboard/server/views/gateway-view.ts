// Gateways as they cross the wire: their account at the own broker, what they last reported, and their probes.

import type { SeenGateway } from '../../../collector/qualify/probe-record.ts';
import { MILLIS_PER_SECOND } from '../../../wax/units.ts';
import type { GatewayView } from '../../api/gateways.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { PairedGateway } from '../sign-in/gateway-accounts.ts';
import { probeViews } from './probe-view.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

const NEVER_SEEN: Omit<SeenGateway, 'gateway'> = {
  online: null,
  reportedAt: null,
  sweeps: null,
  clockLagMillis: null,
};

/** By id: those that are paired, those of the probes, and those that ever sent anything. */
export const gatewayViews = (running: RunningLab, paired: readonly PairedGateway[]): GatewayView[] => {
  const probes = probeViews(running);
  const accounts = new Map(paired.map(({ gateway, pairedAt }) => [gateway, pairedAt]));
  const seen = new Map(running.seenGateways().map((each) => [each.gateway, each]));
  const names = new Set([...accounts.keys(), ...seen.keys(), ...probes.map(({ gateway }) => gateway)]);
  names.delete('');
  return [...names].sort().map((gateway) => {
    const { online, reportedAt, sweeps, clockLagMillis } = seen.get(gateway) ?? NEVER_SEEN;
    const pairedAt = accounts.get(gateway);
    const own = probes.filter((probe) => probe.gateway === gateway);
    const last = own.flatMap(({ at }) => (at === null ? [] : [at])).sort();
    return {
      gateway,
      pairedAt: pairedAt === undefined ? null : iso(pairedAt),
      online,
      reportedAt: isoOrNull(reportedAt),
      lastReadingAt: last.at(-1) ?? null,
      probes: own.length,
      unclaimed: own.filter(({ claimed, retired }) => !claimed && !retired).length,
      sweeps,
      clockLag_seconds: clockLagMillis === null ? null : clockLagMillis / MILLIS_PER_SECOND,
    };
  });
};
