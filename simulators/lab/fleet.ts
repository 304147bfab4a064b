// The demonstration's lab as often as a load needs it: the first copy keeps its ids, the others get a number.

import type { ProbeDesign } from '../probe/probe.ts';
import type { GatewayDesign } from '../probe/wire-format.ts';
import { DEMO_GATEWAYS, DEMO_PROBES, DEMO_STATIONS, type SimulatedStation } from './demo-lab.ts';

export interface Fleet {
  readonly stations: readonly SimulatedStation[];
  readonly probes: readonly ProbeDesign[];
  readonly gateways: readonly GatewayDesign[];
}

export const fleet = (copies: number): Fleet => {
  const stations: SimulatedStation[] = [...DEMO_STATIONS];
  const probes: ProbeDesign[] = [...DEMO_PROBES];
  const gateways: GatewayDesign[] = [...DEMO_GATEWAYS];
  for (let copy = 2; copy <= copies; copy += 1) {
    const nameCopy = (id: string) => `${id}-${copy}`;
    for (const station of DEMO_STATIONS)
      stations.push({ ...station, id: nameCopy(station.id), usedLike: station.id });
    for (const probe of DEMO_PROBES)
      probes.push({ ...probe, id: nameCopy(probe.id), station: nameCopy(probe.station) });
    for (const gateway of DEMO_GATEWAYS)
      gateways.push({ ...gateway, id: nameCopy(gateway.id), probes: gateway.probes.map(nameCopy) });
  }
  return { stations, probes, gateways };
};
