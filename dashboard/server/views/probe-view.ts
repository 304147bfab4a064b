// A probe as it crosses the wire: what the lab says of it and its last reading.

import type { Probe } from '../../../lab/lab.ts';
import type { ProbeView } from '../../api/schemas.ts';
import { iso } from '../base/instant.ts';
import type { SeenProbe } from '../../../collector/qualify/probe-record.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

const view = (running: RunningLab, id: string, known?: Probe, seen?: SeenProbe): ProbeView => {
  const gateway = known?.gateway ?? seen?.gateway ?? '';
  return {
    id,
    gateway,
    station: known?.station ?? null,
    claimed: known !== undefined && known.station !== null,
    celsius: seen?.celsius ?? null,
    at: seen === undefined ? null : iso(seen.lastReadingAt),
    quality: seen?.quality ?? null,
    firstSeen: seen === undefined ? null : iso(seen.firstSeen),
    gatewayOnline: gateway === '' ? null : running.gatewayOnline(gateway),
  };
};

/** Every probe of the lab and every one that was ever seen, by id; those that wait to be claimed are among them. */
export const probeViews = (running: RunningLab): readonly ProbeView[] => {
  const known = new Map(running.lab().probes.map((probe) => [probe.id, probe]));
  const seen = new Map(running.seenProbes().map((probe) => [probe.id, probe]));
  return [...new Set([...known.keys(), ...seen.keys()])]
    .sort()
    .map((id) => view(running, id, known.get(id), seen.get(id)));
};

export const probeView = (running: RunningLab, id: string): ProbeView | null => {
  const known = running.lab().probes.find((probe) => probe.id === id);
  const seen = running.seenProbes().find((probe) => probe.id === id);
  return known === undefined && seen === undefined ? null : view(running, id, known, seen);
};
