// A probe as the lab describes it, and what its station allows.

import type { Lab, Probe } from '../../lab/lab.ts';
import { STATION_KIND_FACTS } from '../../lab/station-kinds.ts';

/** Above it no room and no wax can be, so the probe or its wiring is to be doubted; common practice. */
const MOST_PLAUSIBLE_CELSIUS = 500;
/** A furnace that burns wax out of moulds goes on to preheat them, to about 1,000 °C and rarely more; common practice. */
const MOST_PLAUSIBLE_FURNACE_CELSIUS = 1200;

export interface ProbePlace {
  readonly probe: Probe | undefined;
  readonly mostPlausibleCelsius: number;
}
const UNCLAIMED: ProbePlace = { probe: undefined, mostPlausibleCelsius: MOST_PLAUSIBLE_CELSIUS };

/** A lab is one immutable value, so its index is made once. */
const indexes = new WeakMap<Lab, ReadonlyMap<string, ProbePlace>>();
export const placeOf = (lab: Lab, probe: string): ProbePlace => placesOf(lab).get(probe) ?? UNCLAIMED;
function placesOf(lab: Lab): ReadonlyMap<string, ProbePlace> {
  const indexed = indexes.get(lab);
  if (indexed !== undefined) return indexed;
  const furnaces = new Set(
    lab.stations.filter(({ kind }) => STATION_KIND_FACTS[kind].role === 'burns-out').map(({ id }) => id),
  );
  const index = new Map(
    lab.probes.map((probe): [string, ProbePlace] => {
      const isInFurnace = probe.station !== null && furnaces.has(probe.station);
      const mostPlausibleCelsius = isInFurnace ? MOST_PLAUSIBLE_FURNACE_CELSIUS : MOST_PLAUSIBLE_CELSIUS;
      return [probe.id, { probe, mostPlausibleCelsius }];
    }),
  );
  indexes.set(lab, index);
  return index;
}
