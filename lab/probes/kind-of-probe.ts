// At what kind of station a probe hangs now.

import type { Lab } from '../lab.ts';
import type { StationKind } from '../station-kinds.ts';

/** Null where the probe hangs nowhere. */
export const kindOfProbe = ({ probes, stations }: Lab): ((probe: string) => StationKind | null) => {
  const kinds = new Map(stations.map(({ id, kind }) => [id, kind]));
  const places = new Map(probes.map(({ id, station }) => [id, station]));
  return (probe) => kinds.get(places.get(probe) ?? '') ?? null;
};
