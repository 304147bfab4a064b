// A probe as it crosses the wire: what the lab entered of it and its last reading.

import type { Lab, Probe } from '../../../lab/lab.ts';
import type { ProbeView } from '../../api/schemas.ts';
import type { ElectricalRecord, SeenProbe } from '../../../collector/qualify/probe-record.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { iso } from '../../../wax/iso.ts';

interface Sources {
  readonly described: Probe | undefined;
  readonly seen: SeenProbe | undefined;
  readonly electrical: ElectricalRecord | undefined;
}

const view = (running: RunningLab, id: string, { described, seen, electrical }: Sources): ProbeView => {
  const gateway = described?.gateway ?? seen?.gateway ?? electrical?.gateway ?? '';
  const status = running.deviceStatus(id, gateway);
  return {
    id,
    gateway,
    station: described?.station ?? null,
    claimed: described !== undefined && described.station !== null,
    retired: described?.retiredOn !== undefined,
    celsius: seen?.celsius ?? null,
    at: seen === undefined ? null : iso(seen.lastReadingAt),
    quality: seen?.quality ?? null,
    firstSeen: seen === undefined ? null : iso(seen.firstSeen),
    gatewayOnline: gateway === '' ? null : running.gatewayOnline(gateway),
    electrical:
      electrical === undefined
        ? null
        : { unit: electrical.unit, value: electrical.value, at: iso(electrical.at) },
    status: status === undefined ? null : { ...status, at: iso(status.at) },
  };
};

/** Every probe of the lab and every one that was ever seen, by id; those that wait to be claimed are among them. */
export const probeViews = (running: RunningLab): readonly ProbeView[] => {
  const described = new Map(running.lab().probes.map((probe) => [probe.id, probe]));
  const seen = new Map(running.seenProbes().map((probe) => [probe.id, probe]));
  const electrical = running.seenElectrical();
  return [...new Set([...described.keys(), ...seen.keys(), ...electrical.keys()])]
    .sort()
    .map((id) =>
      view(running, id, { described: described.get(id), seen: seen.get(id), electrical: electrical.get(id) }),
    );
};

/** A lab is one immutable value, so its index is made once. */
const indexes = new WeakMap<Lab, ReadonlyMap<string, Probe>>();
const labProbe = (lab: Lab, id: string): Probe | undefined => {
  const index = indexes.get(lab) ?? new Map(lab.probes.map((probe) => [probe.id, probe]));
  indexes.set(lab, index);
  return index.get(id);
};

/** One of them; called for each that changes, so it looks at none of the others. */
export const probeView = (running: RunningLab, id: string): ProbeView | null => {
  const described = labProbe(running.lab(), id);
  const seen = running.seenProbe(id);
  const electrical = running.electrical(id);
  return described === undefined && seen === undefined && electrical === undefined
    ? null
    : view(running, id, { described, seen, electrical });
};
